//! The fonts that all text is set in. They are carried in the program, so a
//! sheet looks alike wherever it is made; the machine's own are never read.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;
use std::rc::Rc;
use std::sync::LazyLock;

use rustybuzz::{Direction, Face, Script, ShapePlan, UnicodeBuffer, script};

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

/// The family that everything is set in, but for the signs it lacks.
pub const FAMILY: &str = "Libertinus Serif";

/// A font's file, for whoever shows the pages' SVG where it isn't installed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FontFile {
    /// Its PostScript name.
    pub name: &'static str,
    /// Its family, as SVG names it.
    pub family: &'static str,
    /// 400 or 700.
    pub weight: u16,
    /// Whether it is slanted.
    pub italic: bool,
    /// OpenType.
    pub bytes: &'static [u8],
}

/// Every font that text may be set in.
pub fn font_files() -> impl Iterator<Item = FontFile> {
    CARRIED.iter().map(|font| font.file)
}

/// One carried font.
pub(crate) struct CarriedFont {
    pub(crate) file: FontFile,
    /// What its signs are drawn at, in hundredths of the text around them.
    pub(crate) scale: i32,
    /// Its place among the fonts.
    pub(crate) place: usize,
    face: Face<'static>,
}

/// A text set in one font.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct GlyphRun {
    pub(crate) glyphs: Vec<ShapedGlyph>,
    /// The font's units.
    pub(crate) width: i64,
}

/// One of its outlines, in the font's units.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct ShapedGlyph {
    pub(crate) id: u32,
    pub(crate) advance: i32,
    pub(crate) x: i32,
    pub(crate) y: i32,
    /// The bytes of the text that it stands for.
    pub(crate) text: Range<usize>,
}

impl CarriedFont {
    /// The font for a character in a style: of the accidentals, one cut for
    /// setting beside capitals; of all else, the style's own, and the first
    /// that has the character where that lacks it. None if none has it.
    pub(crate) fn with(char: char, style: Style) -> Option<&'static CarriedFont> {
        // Nearly all there is to set, which every style has (a test says so).
        if matches!(char, ' '..='~') {
            return CarriedFont::of(style);
        }
        order(char, style)
            .iter()
            .filter_map(|&place| CARRIED.get(place))
            .find(|font| font.has(char))
    }

    /// The font of a style.
    pub(crate) fn of(style: Style) -> Option<&'static CarriedFont> {
        CARRIED.get(style as usize)
    }

    /// Whether it can draw a character.
    pub(crate) fn has(&self, char: char) -> bool {
        self.face.glyph_index(char).is_some()
    }

    /// Its outlines and the units they are counted in.
    pub(crate) fn face(&self) -> &Face<'static> {
        &self.face
    }

    pub(crate) fn em(&self) -> i64 {
        i64::from(self.face.units_per_em().max(1))
    }

    /// Sets a text, kerned and with ligatures. What was set lately is kept.
    pub(crate) fn shape(&self, text: &str) -> Rc<GlyphRun> {
        SHAPED.with_borrow_mut(|shaped| {
            let Some(known) = shaped.get_mut(self.place) else {
                return Rc::new(self.shaped(text));
            };
            if let Some(known) = known.get(text) {
                return Rc::clone(known);
            }
            if known.len() >= KEPT {
                known.clear();
            }
            let new = Rc::new(self.shaped(text));
            known.insert(text.to_owned(), Rc::clone(&new));
            new
        })
    }

    fn shaped(&self, text: &str) -> GlyphRun {
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        // Of figures alone there is none.
        let script = Some(buffer.script()).filter(|script| *script != script::UNKNOWN);
        let plan = self.plan(buffer.direction(), script);
        let set = rustybuzz::shape_with_plan(&self.face, &plan, buffer);
        let infos = set.glyph_infos();
        // Where each cluster begins, to find where it ends.
        let mut begins: Vec<usize> = infos.iter().map(|info| info.cluster as usize).collect();
        begins.sort_unstable();
        begins.dedup();
        let glyphs: Vec<ShapedGlyph> = infos
            .iter()
            .zip(set.glyph_positions())
            .map(|(info, position)| {
                let from = info.cluster as usize;
                let after = begins.partition_point(|begin| *begin <= from);
                ShapedGlyph {
                    id: info.glyph_id,
                    advance: position.x_advance,
                    x: position.x_offset,
                    y: position.y_offset,
                    text: from..begins.get(after).copied().unwrap_or(text.len()),
                }
            })
            .collect();
        let width = glyphs.iter().map(|glyph| i64::from(glyph.advance)).sum();
        GlyphRun { glyphs, width }
    }

    /// How a script is set in it, which takes longer to find out than a word
    /// takes to be set.
    fn plan(&self, direction: Direction, script: Option<Script>) -> Rc<ShapePlan> {
        PLANS.with_borrow_mut(|plans| {
            let wanted = (self.place, direction, script);
            let known = plans.iter().find(|(of, _)| *of == wanted);
            if let Some((_, plan)) = known {
                return Rc::clone(plan);
            }
            let plan = ShapePlan::new(&self.face, direction, script, None, &[]);
            let plan = Rc::new(plan);
            plans.push((wanted, Rc::clone(&plan)));
            plan
        })
    }

    /// How wide it sets a text. `size` is that of the text around.
    pub(crate) fn width(&self, text: &str, size: i32) -> i32 {
        let units = self.shape(text).width;
        rounded(units * i64::from(self.sized(size)), self.em())
    }

    /// The size it is set at among text of `size`.
    pub(crate) fn sized(&self, size: i32) -> i32 {
        rounded(i64::from(size) * i64::from(self.scale), 100)
    }
}

/// How many texts of a font are kept.
const KEPT: usize = 2_000;

/// A font's place, and what text of it is like.
type Manner = (usize, Direction, Option<Script>);

thread_local! {
    static SHAPED: RefCell<[BTreeMap<String, Rc<GlyphRun>>; 8]> = RefCell::default();
    /// Of each font, direction and script that was met; there are few.
    static PLANS: RefCell<Vec<(Manner, Rc<ShapePlan>)>> = RefCell::default();
}

fn rounded(numerator: i64, denominator: i64) -> i32 {
    let nearest = (2 * numerator + denominator).div_euclid(2 * denominator);
    i32::try_from(nearest).unwrap_or(i32::MAX)
}

macro_rules! font {
    ($name:literal, $family:expr, $weight:literal, $italic:literal, $scale:literal) => {
        (
            FontFile {
                name: $name,
                family: $family,
                weight: $weight,
                italic: $italic,
                bytes: include_bytes!(concat!(env!("OUT_DIR"), "/", $name)),
            },
            $scale,
        )
    };
}

/// The fonts, taken out by `build`, and their scales. The first four are
/// the styles', in order.
static WANTED: [(FontFile, i32); 8] = [
    font!("LibertinusSerif-Regular", FAMILY, 400, false, 100),
    font!("LibertinusSerif-Italic", FAMILY, 400, true, 100),
    font!("LibertinusSerif-Bold", FAMILY, 700, false, 100),
    font!("LibertinusSerif-BoldItalic", FAMILY, 700, true, 100),
    font!("TwelvefoldAccidentals-Regular", ACCIDENTALS, 400, false, 88),
    font!("TwelvefoldAccidentals-Bold", ACCIDENTALS, 700, false, 88),
    font!("DejaVuSansMono", REST, 400, false, 90),
    font!("DejaVuSansMono-Bold", REST, 700, false, 90),
];
const ACCIDENTALS: &str = "Twelvefold Accidentals";
const REST: &str = "DejaVu Sans Mono";

/// The places in [`WANTED`] to look for a character, the best first.
fn order(char: char, style: Style) -> &'static [usize] {
    let accidental = matches!(char, '♭' | '♮' | '♯');
    match (style, accidental) {
        (Style::Roman | Style::Italic, true) => &[4],
        (Style::Bold | Style::BoldItalic, true) => &[5],
        (Style::Roman, false) => &[0, 6],
        (Style::Italic, false) => &[1, 0, 6],
        (Style::Bold, false) => &[2, 0, 7, 6],
        (Style::BoldItalic, false) => &[3, 2, 0, 7, 6],
    }
}

static CARRIED: LazyLock<Vec<CarriedFont>> = LazyLock::new(|| {
    WANTED
        .iter()
        .enumerate()
        .filter_map(|(place, (file, scale))| {
            Some(CarriedFont {
                file: *file,
                scale: *scale,
                place,
                face: Face::from_slice(file.bytes, 0)?,
            })
        })
        .collect()
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_wanted_font_is_carried() {
        let found: Vec<FontFile> = font_files().collect();
        assert_eq!(found, WANTED.map(|(file, _)| file));
    }

    #[test]
    fn every_style_has_ascii() {
        for style in [Style::Roman, Style::Italic, Style::Bold, Style::BoldItalic] {
            let own = CarriedFont::of(style).unwrap();
            assert!((' '..='~').all(|char| own.has(char)), "{style:?}");
        }
    }

    #[test]
    fn who_has_what() {
        let check = |text: &str, style: Style, family: Option<&str>| {
            for char in text.chars() {
                let found = CarriedFont::with(char, style).map(|font| font.file.family);
                assert_eq!(found, family, "{char} {style:?}");
            }
        };
        for style in [Style::Roman, Style::Italic, Style::Bold, Style::BoldItalic] {
            check(
                "Aé ß ł 0189 – — … · ’ ° − △ ø × ½ ñ Ω ж א",
                style,
                Some(FAMILY),
            );
            check("♭♮♯", style, Some(ACCIDENTALS));
            check("☐ع", style, Some(REST));
            check("𝄪𝄫中", style, None);
        }
    }

    /// Against the boxes in the fonts that their outlines come from, New
    /// Computer Modern Math.
    #[test]
    fn accidentals_are_cut_as_they_were() {
        let check = |style: Style, sign: char, expected: [i16; 4]| {
            let font = CarriedFont::with(sign, style).unwrap();
            assert_eq!(
                (font.em(), font.shape(&sign.to_string()).width),
                (1_000, 388)
            );
            let glyph = font.face.glyph_index(sign).unwrap();
            let found = font.face.glyph_bounding_box(glyph).unwrap();
            assert_eq!(
                [found.x_min, found.y_min, found.x_max, found.y_max],
                expected,
                "{sign} {style:?}"
            );
        };
        check(Style::Italic, '♭', [55, -22, 333, 750]);
        check(Style::Roman, '♮', [79, -217, 309, 728]);
        check(Style::Roman, '♯', [55, -216, 333, 716]);
        check(Style::Bold, '♭', [35, -22, 333, 750]);
        check(Style::Bold, '♮', [59, -217, 329, 728]);
        check(Style::BoldItalic, '♯', [35, -216, 353, 716]);
    }

    /// Against the advances and the kerning in the font's own tables.
    #[test]
    fn widths_are_kerned() {
        let font = CarriedFont::of(Style::Roman).unwrap();
        let check = |text: &str, expected: i32| assert_eq!(font.width(text, 1_000), expected);
        check("A", 695);
        check("V", 652);
        check("AV", 695 + 652 - 112);
        assert_eq!(font.width("", 1_000), 0);
        assert_eq!(font.width("A", 0), 0);
    }

    #[test]
    fn glyphs_know_their_text() {
        let font = CarriedFont::of(Style::Roman).unwrap();
        let ranges = |text: &str| -> Vec<Range<usize>> {
            let shaped = font.shape(text);
            shaped
                .glyphs
                .iter()
                .map(|glyph| glyph.text.clone())
                .collect()
        };
        assert_eq!(ranges("añb"), [0..1, 1..3, 3..4]);
        assert_eq!(ranges("אב"), [2..4, 0..2]);
    }
}
