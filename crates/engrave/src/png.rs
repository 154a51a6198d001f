//! Pages as PNG pictures, for a slide or a message.

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg;

use crate::{Page, drawing};

/// Dots to the inch that a picture may have: a page at the most is a picture
/// of some 35 million dots.
pub const RESOLUTIONS: std::ops::RangeInclusive<u16> = 20..=600;

/// Why there is no picture.
#[derive(Debug, thiserror::Error)]
pub enum PngError {
    /// The page's SVG isn't well formed.
    #[error("the page can't be read: {0}")]
    Page(#[from] usvg::Error),
    /// Too few dots, or too many.
    #[error("{0} dots to the inch: say {lowest} to {highest}", lowest = RESOLUTIONS.start(), highest = RESOLUTIONS.end())]
    Resolution(u16),
    /// The picture can't be packed.
    #[error("the picture can't be written: {0}")]
    File(String),
}

/// A page on white, at so many dots to the inch.
///
/// # Errors
/// A resolution out of [`RESOLUTIONS`] or a page that can't be read.
pub fn png(page: &Page, resolution: u16) -> Result<Vec<u8>, PngError> {
    let fault = PngError::Resolution(resolution);
    if !RESOLUTIONS.contains(&resolution) {
        return Err(fault);
    }
    let tree = drawing::tree(page)?;
    let dots = |length: i32| (length.unsigned_abs() * u32::from(resolution) + 1_270) / 2_540;
    let (width, height) = (dots(page.paper.width()), dots(page.paper.height()));
    let mut picture = Pixmap::new(width, height).ok_or(fault)?;
    picture.fill(Color::WHITE);
    let scale = Transform::from_scale(
        ratio(width, tree.size().width()),
        ratio(height, tree.size().height()),
    );
    resvg::render(&tree, scale, &mut picture.as_mut());
    picture
        .encode_png()
        .map_err(|why| PngError::File(why.to_string()))
}

#[allow(clippy::float_arithmetic)]
fn ratio(dots: u32, size: f32) -> f32 {
    dots as f32 / size
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Line, Paper};

    fn page() -> Page {
        let mut body = String::new();
        Line::new()
            .roman("Lantern")
            .size(2_000)
            .at(2_540, 5_080)
            .svg(&mut body);
        Page {
            paper: Paper::Letter,
            title: String::new(),
            body,
        }
    }

    /// 8½ by 11 inches.
    #[test]
    fn as_many_dots_as_asked() {
        let check = |resolution: u16, width: u32, height: u32| {
            let picture = Pixmap::decode_png(&png(&page(), resolution).unwrap()).unwrap();
            assert_eq!((picture.width(), picture.height()), (width, height));
        };
        check(20, 170, 220);
        check(100, 850, 1_100);
        check(150, 1_275, 1_650);
    }

    #[test]
    fn black_on_white() {
        let picture = Pixmap::decode_png(&png(&page(), 100).unwrap()).unwrap();
        assert!(picture.pixels().iter().all(|dot| dot.is_opaque()));
        let dark = |x: u32, y: u32| picture.pixel(x, y).unwrap().red() < 128;
        let rows: Vec<u32> = (0..1_100)
            .filter(|&y| (0..850).any(|x| dark(x, y)))
            .collect();
        let columns: Vec<u32> = (0..850)
            .filter(|&x| (0..1_100).any(|y| dark(x, y)))
            .collect();
        // An inch from the left; standing on a baseline two inches from the top.
        assert!((99..106).contains(&columns[0]), "{columns:?}");
        assert!((198..204).contains(rows.last().unwrap()), "{rows:?}");
    }

    #[test]
    fn same_bytes() {
        assert_eq!(png(&page(), 60).unwrap(), png(&page(), 60).unwrap());
    }

    #[test]
    fn resolutions_out_of_reach() {
        for resolution in [0, 19, 601, u16::MAX] {
            let fault = png(&page(), resolution).unwrap_err().to_string();
            let expected = format!("{resolution} dots to the inch: say 20 to 600");
            assert_eq!(fault, expected);
        }
    }
}
