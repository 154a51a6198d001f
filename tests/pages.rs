//! Printed pages as a printer and a reader get them: every shipped lesson for
//! three horns, measured in its SVG and read back from its PDF.
#![cfg(test)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use engrave::resvg::tiny_skia::Pixmap;
use engrave::resvg::usvg::{Group, Node, Options, Rect, Transform, Tree};
use engrave::{DrawnSheet, Engravers, Page, Paper};
use etude::Composer;
use lesson::Lesson;
use rayon::prelude::*;
use score::{Direction, Element, Score};

static ENGRAVERS: LazyLock<Engravers> = LazyLock::new(Engravers::default);

/// High, low and transposing.
const HORNS: [&str; 3] = ["alto-saxophone", "trombone", "flute"];

#[test]
fn every_shipped_lesson_is_drawn_as_it_is() {
    let mut sheets: Vec<(String, Score)> = Vec::new();
    for path in lessons() {
        sheets.extend(scores(&path));
    }
    assert!(sheets.len() > 60, "{}", sheets.len());
    let faults: Vec<String> = sheets
        .par_iter()
        .flat_map_iter(|(name, score)| {
            let faults = faults(score, Paper::A4);
            faults
                .into_iter()
                .map(move |fault| format!("{name}: {fault}"))
        })
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn letter_paper_and_large_print_hold_everything() {
    for lesson in ["weather-vane", "cooper-street", "crooked-pier"] {
        let path = folder().join(format!("{lesson}.toml"));
        for (name, mut score) in scores(&path) {
            assert_eq!(faults(&score, Paper::Letter), [""; 0], "{name}");
            score.page.staff_height = 110;
            assert_eq!(faults(&score, Paper::A4), [""; 0], "{name}, large");
        }
    }
}

#[test]
fn a_fault_on_a_page_is_seen() {
    let (_, score) = scores(&folder().join("lantern-stairs.toml")).remove(0);
    let sheet = ENGRAVERS.sheet(&score, Paper::A4).unwrap();
    let spoiled = |add: &str| {
        let mut page = sheet.pages[0].clone();
        page.body.push_str(add);
        measured(&page).len()
    };
    assert_eq!(spoiled(""), 0);
    assert_ne!(
        spoiled("<text x=\"20800\" y=\"9000\" font-size=\"400\">too far</text>"),
        0
    );
    let across =
        "<text x=\"1500\" y=\"6400\" font-size=\"400\">across everything that stands here</text>";
    assert_ne!(spoiled(across), 0);
}

/// Pictures that were looked at and kept; after a change that is meant, take
/// the new ones from `target`, look at them, and put them there.
#[test]
fn pages_look_as_they_did() {
    let lessons = [
        "lantern-stairs",
        "coal-barge-blues",
        "weather-vane",
        "quarry-answers",
    ];
    let picture = |lesson: &str, sheet: usize| {
        let (_, score) = scores(&folder().join(format!("{lesson}.toml"))).remove(sheet);
        let sheet = ENGRAVERS.sheet(&score, Paper::A4).unwrap();
        engrave::png(&sheet.pages[0], 60).unwrap()
    };
    let read = |png: &[u8]| Pixmap::decode_png(png).unwrap();
    let name = |lesson: &str| format!("{lesson}-page-1.png");
    for lesson in lessons {
        let now = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name(lesson));
        fs::write(now, picture(lesson, 0)).unwrap();
    }
    for lesson in lessons {
        let kept = read(&fs::read(folder().join("../pages").join(name(lesson))).unwrap());
        let far = apart(&kept, &read(&picture(lesson, 0)));
        assert!(far < 2, "{lesson} is {far} thousandths away");
        let far = apart(&kept, &read(&picture(lesson, 1)));
        assert!(far >= 2, "another key of {lesson} is only {far} away");
    }
}

/// How far two pictures are apart, in thousandths of all black on white.
fn apart(one: &Pixmap, other: &Pixmap) -> u64 {
    if (one.width(), one.height()) != (other.width(), other.height()) {
        return 1000;
    }
    let bytes = one.data().iter().zip(other.data());
    let sum: u64 = bytes
        .map(|(one, other)| u64::from(one.abs_diff(*other)))
        .sum();
    sum * 1000 / (one.data().len() as u64 * 255)
}

#[test]
fn a_pdf_says_its_texts() {
    for lesson in ["lantern-stairs", "coal-barge-blues", "one-breath"] {
        let (name, score) = scores(&folder().join(format!("{lesson}.toml"))).remove(0);
        let sheet = ENGRAVERS.sheet(&score, Paper::A4).unwrap();
        let about = engrave::About::default();
        let bytes = engrave::pdf(&sheet.pages, &about).unwrap();
        assert_eq!(bytes, engrave::pdf(&sheet.pages, &about).unwrap());
        let document = lopdf::Document::load_mem(&bytes).unwrap();
        let pages: Vec<u32> = document.get_pages().keys().copied().collect();
        assert_eq!(pages.len(), sheet.pages.len());
        let text = document.extract_text(&pages).unwrap();
        let said: String = text.split_whitespace().collect();
        let mut wanted: BTreeSet<String> =
            BTreeSet::from([score.title.clone(), score.part.name.clone()]);
        wanted.extend(score.chords.iter().map(|chord| chord.root.signs()));
        for measure in &score.part.measures {
            for direction in &measure.directions {
                if let Direction::Words(words) = direction {
                    wanted.insert(words.to_string());
                }
            }
            for element in &measure.elements {
                if let Element::Note(note) = element {
                    wanted.extend(note.lyrics.iter().flatten().map(ToString::to_string));
                }
            }
        }
        for wanted in wanted {
            let wanted: String = wanted.split_whitespace().collect();
            assert!(said.contains(&wanted), "{name}: {wanted} in {text}");
        }
    }
}

/// The first and the last sheet of each horn, and the answers to the first.
fn scores(path: &Path) -> Vec<(String, Score)> {
    let stem = path.file_stem().unwrap().to_str().unwrap();
    let text = fs::read_to_string(path).unwrap();
    // Those that name a lead sheet are read with it elsewhere.
    let Ok(read) = lesson_text::read(&text, stem) else {
        return Vec::new();
    };
    let mut lesson: Lesson = read.lesson;
    let model = lesson.players[0].clone();
    lesson.players = HORNS
        .map(|horn| {
            let mut player = model.clone();
            player.instrument = theory::Instrument::named(horn).unwrap();
            (player.low, player.high, player.name) = (None, None, None);
            player
        })
        .to_vec();
    let composer = Composer::new(&lesson).unwrap();
    let mut scores = Vec::new();
    for (player, horn) in HORNS.iter().enumerate() {
        let own: Vec<_> = composer
            .plans()
            .iter()
            .filter(|plan| plan.player == player)
            .collect();
        for plan in [own.first(), own.last()].into_iter().flatten() {
            let name = format!("{stem} {horn} {}", plan.stem());
            if let Ok(sheet) = composer.compose(plan) {
                scores.push((name.clone(), sheet.score));
            }
            if let Ok(Some(sheet)) = composer.answers(plan) {
                scores.push((name + " answers", sheet.score));
            }
        }
    }
    scores
}

fn faults(score: &Score, paper: Paper) -> Vec<String> {
    let sheet = match ENGRAVERS.sheet(score, paper) {
        Ok(sheet) => sheet,
        Err(error) => return vec![error.to_string()],
    };
    let mut faults = heads(score, &sheet);
    for (place, page) in sheet.pages.iter().enumerate() {
        let here = measured(page).into_iter();
        faults.extend(here.map(|fault| format!("page {}: {fault}", place + 1)));
    }
    if !sheet.missing.is_empty() {
        faults.push(format!("no font has {:?}", sheet.missing));
    }
    faults
}

/// As many noteheads as notes.
fn heads(score: &Score, sheet: &DrawnSheet) -> Vec<String> {
    let drawn: usize = sheet
        .pages
        .iter()
        .map(|page| page.body.matches("class=\"notehead\"").count())
        .sum();
    let notes = score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements)
        .filter(|element| !matches!(element, Element::Rest(_)))
        .count();
    if drawn == notes {
        return Vec::new();
    }
    vec![format!("{drawn} noteheads of {notes} notes")]
}

/// What stands outside of the page, and texts that touch each other or the
/// music.
fn measured(page: &Page) -> Vec<String> {
    let options = Options {
        fontdb: engrave::database(),
        // A hundredth of a millimetre is a pixel.
        dpi: 2540.0,
        ..Options::default()
    };
    let tree = Tree::from_str(&page.svg(), &options).unwrap();
    let mut inks = Inks::default();
    inks.gather(tree.root(), Transform::identity());
    let [width, height] = [page.paper.width(), page.paper.height()];
    let mut faults = Vec::new();
    for (what, ink) in inks.texts.iter().chain(&inks.shapes) {
        let [left, top, right, bottom] = *ink;
        if left < MARGIN || top < MARGIN || right > width - MARGIN || bottom > height - MARGIN {
            faults.push(format!("{what} at {ink:?} leaves the page"));
        }
    }
    for (place, (what, one)) in inks.texts.iter().enumerate() {
        for (other, another) in inks.texts[place + 1..].iter().chain(&inks.shapes) {
            if touch(*one, *another) {
                faults.push(format!("{what} at {one:?} touches {other} at {another:?}"));
            }
        }
    }
    faults
}

/// What printers leave white.
const MARGIN: i32 = 500;

/// Hundredths of a millimetre by which boxes may share an edge: ink is rounder
/// than the box around it.
const EDGE: i32 = 15;

/// Left, top, right and bottom.
type Ink = [i32; 4];

fn touch(one: Ink, another: Ink) -> bool {
    one[0] + EDGE < another[2]
        && another[0] + EDGE < one[2]
        && one[1] + EDGE < another[3]
        && another[1] + EDGE < one[3]
}

fn ink(bounds: Rect) -> Ink {
    [
        bounds.left() as i32,
        bounds.top() as i32,
        bounds.right() as i32,
        bounds.bottom() as i32,
    ]
}

#[derive(Default)]
struct Inks {
    texts: Vec<(String, Ink)>,
    shapes: Vec<(String, Ink)>,
}

impl Inks {
    /// `page` takes the group's places to the page's. (The places on the page
    /// that usvg tells are wrong for a glyph that is used with a scale.)
    fn gather(&mut self, group: &Group, page: Transform) {
        for node in group.children() {
            match node {
                Node::Group(group) => self.gather(group, page.pre_concat(group.transform())),
                Node::Text(text) => {
                    let said: String = text.chunks().iter().map(|chunk| chunk.text()).collect();
                    // What is drawn, not the room that the font has.
                    let drawn = text.flattened().bounding_box();
                    let drawn = ink(drawn.transform(page).unwrap());
                    self.texts.push((format!("{said:?}"), drawn));
                }
                Node::Path(path) => {
                    let drawn = ink(path.stroke_bounding_box().transform(page).unwrap());
                    let (width, height) = (drawn[2] - drawn[0], drawn[3] - drawn[1]);
                    // Rows of text stand between staff lines and rules; the
                    // paper is under everything; a frame is around its text.
                    let is_line = width > 20 * height;
                    let is_paper = width > 20_000;
                    let is_frame = path.fill().is_none() && height > 250;
                    if !is_line && !is_paper && !is_frame {
                        self.shapes.push(("a sign".to_owned(), drawn));
                    }
                }
                Node::Image(_) => (),
            }
        }
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/lessons")
}

fn lessons() -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    paths
}
