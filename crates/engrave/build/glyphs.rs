//! What a page can need of Bravura, as a table in Rust: SMuFL's reference
//! font, as XML outlines, boxes and anchors in the package `verovio-data`.

use std::fmt::Write;

/// Name here, place in SMuFL 1.4.
const WANTED: &[(&str, &str)] = &[
    ("BRACKET_TOP", "E003"),
    ("BRACKET_BOTTOM", "E004"),
    ("G_CLEF", "E050"),
    ("G_CLEF_15_BELOW", "E051"),
    ("G_CLEF_8_BELOW", "E052"),
    ("G_CLEF_8_ABOVE", "E053"),
    ("G_CLEF_15_ABOVE", "E054"),
    ("C_CLEF", "E05C"),
    ("C_CLEF_8_BELOW", "E05D"),
    ("F_CLEF", "E062"),
    ("F_CLEF_15_BELOW", "E063"),
    ("F_CLEF_8_BELOW", "E064"),
    ("F_CLEF_8_ABOVE", "E065"),
    ("F_CLEF_15_ABOVE", "E066"),
    ("METER_0", "E080"),
    ("METER_1", "E081"),
    ("METER_2", "E082"),
    ("METER_3", "E083"),
    ("METER_4", "E084"),
    ("METER_5", "E085"),
    ("METER_6", "E086"),
    ("METER_7", "E087"),
    ("METER_8", "E088"),
    ("METER_9", "E089"),
    ("HEAD_BREVE", "E0A0"),
    ("HEAD_WHOLE", "E0A2"),
    ("HEAD_HALF", "E0A3"),
    ("HEAD_BLACK", "E0A4"),
    ("GHOST_LEFT", "E0F5"),
    ("GHOST_RIGHT", "E0F6"),
    ("SLASH_BLACK", "E101"),
    ("SLASH_WHOLE", "E102"),
    ("SLASH_HALF", "E103"),
    ("DOT", "E1E7"),
    ("FLAG_8_UP", "E240"),
    ("FLAG_8_DOWN", "E241"),
    ("FLAG_16_UP", "E242"),
    ("FLAG_16_DOWN", "E243"),
    ("FLAG_32_UP", "E244"),
    ("FLAG_32_DOWN", "E245"),
    ("FLAG_64_UP", "E246"),
    ("FLAG_64_DOWN", "E247"),
    ("FLAT", "E260"),
    ("NATURAL", "E261"),
    ("SHARP", "E262"),
    ("DOUBLE_SHARP", "E263"),
    ("DOUBLE_FLAT", "E264"),
    ("COURTESY_LEFT", "E26A"),
    ("COURTESY_RIGHT", "E26B"),
    ("ACCENT_ABOVE", "E4A0"),
    ("ACCENT_BELOW", "E4A1"),
    ("STACCATO", "E4A2"),
    ("TENUTO", "E4A4"),
    ("BREATH", "E4CE"),
    ("REST_BREVE", "E4E2"),
    ("REST_WHOLE", "E4E3"),
    ("REST_HALF", "E4E4"),
    ("REST_QUARTER", "E4E5"),
    ("REST_8", "E4E6"),
    ("REST_16", "E4E7"),
    ("REST_32", "E4E8"),
    ("REST_64", "E4E9"),
    ("DYNAMIC_P", "E520"),
    ("DYNAMIC_M", "E521"),
    ("DYNAMIC_F", "E522"),
    ("DYNAMIC_R", "E523"),
    ("DYNAMIC_S", "E524"),
    ("DYNAMIC_Z", "E525"),
    ("TUPLET_0", "E880"),
    ("TUPLET_1", "E881"),
    ("TUPLET_2", "E882"),
    ("TUPLET_3", "E883"),
    ("TUPLET_4", "E884"),
    ("TUPLET_5", "E885"),
    ("TUPLET_6", "E886"),
    ("TUPLET_7", "E887"),
    ("TUPLET_8", "E888"),
    ("TUPLET_9", "E889"),
    ("TEMPO_BREVE", "ECA0"),
    ("TEMPO_WHOLE", "ECA2"),
    ("TEMPO_HALF", "ECA3"),
    ("TEMPO_QUARTER", "ECA5"),
    ("TEMPO_8", "ECA7"),
    ("TEMPO_16", "ECA9"),
    ("TEMPO_32", "ECAB"),
    ("TEMPO_64", "ECAD"),
    ("TEMPO_DOT", "ECB7"),
];

/// The font has 250 units to a staff space; we count in thousandths of one.
const SCALE: i64 = 4;

/// The table; what is missing stops the build.
pub fn table() -> String {
    let boxes = text("Bravura.xml");
    assert!(boxes.contains("units-per-em=\"1000\""), "the font's units");
    let mut table = String::new();
    for (name, code) in WANTED {
        write_glyph(&mut table, name, code, boxes);
    }
    let names: Vec<String> = WANTED.iter().map(|(name, _)| format!("&{name}")).collect();
    let _ = writeln!(
        table,
        "/// Every glyph there is.\npub(crate) static ALL: [&Glyph; {}] = [{}];",
        names.len(),
        names.join(", ")
    );
    table
}

fn text(path: &str) -> &'static str {
    let file = verovio_data::DATA.get_file(path);
    let text = file.and_then(|file| file.contents_utf8());
    text.unwrap_or_else(|| panic!("the font lacks {path}"))
}

fn write_glyph(table: &mut String, name: &str, code: &str, boxes: &str) {
    let start = format!("<g c=\"{code}\"");
    let at = boxes
        .find(&start)
        .unwrap_or_else(|| panic!("no box of {code}"));
    let element = boxes[at..].split("<g ").nth(1).unwrap_or_default();
    let number = |name: &str| {
        let value = between(element, &format!(" {name}=\""));
        hundredths(value.unwrap_or_else(|| panic!("no {name} of {code}"))) * SCALE / 100
    };
    let [x, y, w, h] = ["x", "y", "w", "h"].map(number);
    let anchor = |name: &str| {
        let anchor = format!("<a n=\"{name}\" x=\"");
        let rest = element.split_once(&anchor)?.1;
        let (x, rest) = rest.split_once('"')?;
        let y = between(rest, " y=\"")?;
        // Anchors are in staff spaces, and y goes upwards.
        Some((hundredths(x) * 10, -hundredths(y) * 10))
    };
    let outline = text(&format!("Bravura/{code}.xml"));
    let data = between(outline, " d=\"").unwrap_or_else(|| panic!("no outline of {code}"));
    let (segments, svg) = read_outline(data);
    let _ = writeln!(
        table,
        "pub(crate) static {name}: Glyph = Glyph {{ code: 0x{code}, advance: {}, left: {x}, top: {}, right: {}, \
         bottom: {}, stem_up: {:?}, stem_down: {:?}, svg: \"{svg}\", outline: &[{segments}] }};",
        number("h-a-x"),
        -(y + h),
        x + w,
        -y,
        anchor("stemUpSE"),
        anchor("stemDownNW"),
    );
}

fn between<'a>(text: &'a str, before: &str) -> Option<&'a str> {
    Some(text.split_once(before)?.1.split_once('"')?.0)
}

/// A decimal in hundredths.
fn hundredths(number: &str) -> i64 {
    let (sign, digits) = match number.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, number),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let part: String = part.chars().chain("00".chars()).take(2).collect();
    let whole: i64 = if whole.is_empty() {
        0
    } else {
        whole.parse().expect("a number")
    };
    sign * (whole * 100 + part.parse::<i64>().expect("a number"))
}

/// An outline as segments with absolute places, and as SVG's path data with
/// relative ones, both in thousandths of a staff space, y downwards.
fn read_outline(data: &str) -> (String, String) {
    let mut reader = Reader { rest: data };
    let mut pen = Pen::default();
    let mut command = ' ';
    while let Some(next) = reader.command(command) {
        command = next;
        let relative = command.is_ascii_lowercase();
        let base = if relative { pen.at } else { (0, 0) };
        match command.to_ascii_lowercase() {
            'm' => {
                let to = reader.point(base);
                pen.start(to);
                command = if relative { 'l' } else { 'L' };
            }
            'l' => {
                let to = reader.point(base);
                pen.line(to);
            }
            'h' => {
                let x = base.0 + reader.number();
                pen.line((x, pen.at.1));
            }
            'v' => {
                let y = base.1 + reader.number();
                pen.line((pen.at.0, y));
            }
            'c' => {
                let points = [reader.point(base), reader.point(base), reader.point(base)];
                pen.curve(points);
            }
            's' => {
                let first = match pen.handle {
                    Some((x, y)) => (2 * pen.at.0 - x, 2 * pen.at.1 - y),
                    None => pen.at,
                };
                let points = [first, reader.point(base), reader.point(base)];
                pen.curve(points);
            }
            'z' => pen.close(),
            other => panic!("an outline with `{other}`"),
        }
    }
    (pen.segments, pen.svg)
}

type Point = (i64, i64);

struct Reader<'a> {
    rest: &'a str,
}

impl Reader<'_> {
    fn skip(&mut self) {
        self.rest = self.rest.trim_start_matches([' ', ',']);
    }

    /// The next command; the one before again where a number follows.
    fn command(&mut self, before: char) -> Option<char> {
        self.skip();
        let next = self.rest.chars().next()?;
        if next.is_ascii_alphabetic() {
            self.rest = &self.rest[1..];
            Some(next)
        } else {
            assert!(before != ' ', "an outline that begins with a number");
            Some(before)
        }
    }

    /// In hundredths of the font's units.
    fn number(&mut self) -> i64 {
        self.skip();
        let sign = usize::from(self.rest.starts_with('-'));
        let end = self.rest[sign..]
            .find(|char: char| !char.is_ascii_digit() && char != '.')
            .map_or(self.rest.len(), |end| sign + end);
        let (number, rest) = self.rest.split_at(end);
        self.rest = rest;
        hundredths(number)
    }

    fn point(&mut self, base: Point) -> Point {
        let x = base.0 + self.number();
        let y = base.1 + self.number();
        (x, y)
    }
}

/// Draws in hundredths of the font's units, y upwards.
#[derive(Default)]
struct Pen {
    at: Point,
    began: Point,
    handle: Option<Point>,
    segments: String,
    svg: String,
}

impl Pen {
    fn start(&mut self, to: Point) {
        let (x, y) = ours(to);
        let _ = write!(self.segments, "Segment::Move({x}, {y}), ");
        let _ = write!(self.svg, "M{x} {y}");
        (self.at, self.began, self.handle) = (to, to, None);
    }

    fn line(&mut self, to: Point) {
        let ((x, y), from) = (ours(to), ours(self.at));
        let _ = write!(self.segments, "Segment::Line({x}, {y}), ");
        if from.1 == y {
            let _ = write!(self.svg, "h{}", x - from.0);
        } else if from.0 == x {
            let _ = write!(self.svg, "v{}", y - from.1);
        } else {
            let _ = write!(self.svg, "l{}", pair((x - from.0, y - from.1)));
        }
        (self.at, self.handle) = (to, None);
    }

    fn curve(&mut self, points: [Point; 3]) {
        let from = ours(self.at);
        let [a, b, c] = points.map(ours);
        let _ = write!(
            self.segments,
            "Segment::Curve({}, {}, {}, {}, {}, {}), ",
            a.0, a.1, b.0, b.1, c.0, c.1
        );
        let relative = |point: Point| pair((point.0 - from.0, point.1 - from.1));
        let mut text = format!("c{}", relative(a));
        for point in [b, c] {
            let next = relative(point);
            if !next.starts_with('-') {
                text.push(' ');
            }
            text.push_str(&next);
        }
        self.svg.push_str(&text);
        (self.at, self.handle) = (points[2], Some(points[1]));
    }

    fn close(&mut self) {
        self.segments.push_str("Segment::Close, ");
        self.svg.push('z');
        (self.at, self.handle) = (self.began, None);
    }
}

fn pair((x, y): Point) -> String {
    if y < 0 {
        format!("{x}{y}")
    } else {
        format!("{x} {y}")
    }
}

fn ours((x, y): Point) -> Point {
    ((x * SCALE).div_euclid(100), (-y * SCALE).div_euclid(100))
}
