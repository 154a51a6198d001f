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
