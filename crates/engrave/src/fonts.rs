//! The fonts that all text is set in. They are carried in the program, so a
//! sheet looks alike wherever it is made; the machine's own are never read.

use std::sync::{Arc, LazyLock};

use resvg::usvg::fontdb::{Database, Source};
use rustybuzz::{Face, UnicodeBuffer};

use crate::Hundredths;

/// How text is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
#[allow(missing_docs)]
pub enum Style {
    #[default]
    Roman,
    Italic,
    Bold,
    BoldItalic,
}

/// The carried fonts, loaded once in a process and shared.
pub fn database() -> Arc<Database> {
    Arc::clone(&CARRIED.database)
}

/// The family that everything is set in, but for the signs it lacks.
pub const FAMILY: &str = "Libertinus Serif";

/// One carried font.
pub(crate) struct Carried {
    /// Its family, as SVG names it.
    pub(crate) family: &'static str,
    /// 400 or 700.
    pub(crate) weight: u16,
    /// Whether it is slanted.
    pub(crate) italic: bool,
    /// What its signs are drawn at, in hundredths of the text around them.
    pub(crate) scale: i32,
    face: Face<'static>,
}

impl Carried {
    /// The font for a character in a style: of the accidentals, one cut for
    /// setting beside capitals; of all else, the style's own, and the first
    /// that has the character where that lacks it. None if none has it.
    pub(crate) fn with(char: char, style: Style) -> Option<&'static Carried> {
        order(char, style)
            .iter()
            .filter_map(|&place| CARRIED.fonts.get(place))
            .find(|font| font.has(char))
    }

    /// The font of a style.
    pub(crate) fn of(style: Style) -> Option<&'static Carried> {
        CARRIED.fonts.get(style as usize)
    }

    /// Whether it can draw a character.
    pub(crate) fn has(&self, char: char) -> bool {
        self.face.glyph_index(char).is_some()
    }

    /// How wide it sets a text, kerned and with ligatures. `size` is that of
    /// the text around.
    pub(crate) fn width(&self, text: &str, size: Hundredths) -> Hundredths {
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        let set = rustybuzz::shape(&self.face, &[], buffer);
        let units: i64 = set
            .glyph_positions()
            .iter()
            .map(|position| i64::from(position.x_advance))
            .sum();
        let em = i64::from(self.face.units_per_em().max(1));
        rounded(units * i64::from(self.sized(size)), em)
    }

    /// The size it is set at among text of `size`.
    pub(crate) fn sized(&self, size: Hundredths) -> Hundredths {
        rounded(i64::from(size) * i64::from(self.scale), 100)
    }
}

fn rounded(numerator: i64, denominator: i64) -> i32 {
    let nearest = (2 * numerator + denominator).div_euclid(2 * denominator);
    i32::try_from(nearest).unwrap_or(i32::MAX)
}

/// PostScript name, family, weight, slant and scale. The first four are the
/// styles', in order.
const WANTED: [(&str, &str, u16, bool, i32); 8] = [
    ("LibertinusSerif-Regular", FAMILY, 400, false, 100),
    ("LibertinusSerif-Italic", FAMILY, 400, true, 100),
    ("LibertinusSerif-Bold", FAMILY, 700, false, 100),
    ("LibertinusSerif-BoldItalic", FAMILY, 700, true, 100),
    ("NewCMMath-Regular", SIGNS, 400, false, 88),
    ("NewCMMath-Bold", SIGNS, 700, false, 88),
    ("DejaVuSansMono", REST, 400, false, 90),
    ("DejaVuSansMono-Bold", REST, 700, false, 90),
];
const SIGNS: &str = "NewComputerModern Math";
const REST: &str = "DejaVu Sans Mono";

/// The places in [`WANTED`] to look for a character, the best first.
fn order(char: char, style: Style) -> &'static [usize] {
    let accidental = matches!(char, '♭' | '♮' | '♯');
    match (style, accidental) {
        (Style::Roman | Style::Italic, true) => &[4],
        (Style::Bold | Style::BoldItalic, true) => &[5],
        (Style::Roman, false) => &[0, 4, 6],
        (Style::Italic, false) => &[1, 0, 4, 6],
        (Style::Bold, false) => &[2, 0, 5, 7, 6],
        (Style::BoldItalic, false) => &[3, 2, 0, 5, 7, 6],
    }
}

struct Fonts {
    database: Arc<Database>,
    fonts: Vec<Carried>,
}

static CARRIED: LazyLock<Fonts> = LazyLock::new(|| {
    let mut database = Database::new();
    database.set_serif_family(FAMILY);
    let mut found: Vec<(usize, Carried)> = typst_assets::fonts()
        .filter_map(|data| {
            let face = Face::from_slice(data, 0)?;
            let place = wanted(data)?;
            let (_, family, weight, italic, scale) = WANTED[place];
            database.load_font_source(Source::Binary(Arc::new(data)));
            Some((
                place,
                Carried {
                    family,
                    weight,
                    italic,
                    scale,
                    face,
                },
            ))
        })
        .collect();
    found.sort_by_key(|&(place, _)| place);
    Fonts {
        database: Arc::new(database),
        fonts: found.into_iter().map(|(_, font)| font).collect(),
    }
});

/// Which of the wanted fonts this is.
fn wanted(data: &'static [u8]) -> Option<usize> {
    let mut alone = Database::new();
    alone.load_font_source(Source::Binary(Arc::new(data)));
    let info = alone.faces().next()?;
    let name = &info.post_script_name;
    WANTED.iter().position(|row| row.0 == name)
}

#[cfg(test)]
mod tests {
    use resvg::usvg::fontdb;

    use super::*;

    #[test]
    fn every_wanted_font_is_carried() {
        let found = CARRIED.fonts.iter();
        let found = found.map(|font| (font.family, font.weight, font.italic, font.scale));
        let wanted =
            WANTED.map(|(_, family, weight, italic, scale)| (family, weight, italic, scale));
        assert_eq!(found.collect::<Vec<_>>(), wanted);
        assert_eq!(database().len(), WANTED.len());
    }

    #[test]
    fn the_database_finds_them_by_name() {
        for (name, family, weight, italic, _) in WANTED {
            let database = database();
            let id = database
                .query(&fontdb::Query {
                    families: &[fontdb::Family::Name(family)],
                    weight: fontdb::Weight(weight),
                    style: if italic {
                        fontdb::Style::Italic
                    } else {
                        fontdb::Style::Normal
                    },
                    ..Default::default()
                })
                .unwrap();
            let face = database.face(id).unwrap();
            assert_eq!(face.post_script_name, name);
        }
    }

    #[test]
    fn who_has_what() {
        let check = |text: &str, style: Style, family: Option<&str>| {
            for char in text.chars() {
                let found = Carried::with(char, style).map(|font| font.family);
                assert_eq!(found, family, "{char} {style:?}");
            }
        };
        for style in [Style::Roman, Style::Italic, Style::Bold, Style::BoldItalic] {
            check(
                "Aé ß ł 0189 – — … · ’ ° − △ ø × ½ ñ Ω ж א",
                style,
                Some(FAMILY),
            );
            check("♭♮♯", style, Some(SIGNS));
            check("☐ع", style, Some(REST));
            check("𝄪𝄫中", style, None);
        }
    }

    /// Against the advances and the kerning in the font's own tables.
    #[test]
    fn widths_are_kerned() {
        let font = Carried::of(Style::Roman).unwrap();
        let check = |text: &str, expected: i32| assert_eq!(font.width(text, 1_000), expected);
        check("A", 695);
        check("V", 652);
        check("AV", 695 + 652 - 112);
        assert_eq!(font.width("", 1_000), 0);
        assert_eq!(font.width("A", 0), 0);
    }
}
