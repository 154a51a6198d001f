//! Printed pages as they are told: everything of a sheet is drawn once, in its
//! place, and nothing touches what it shouldn't.
#![cfg(test)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use engrave::{DrawnSheet, Ink, NotePlace, Page, Paper, Role, Seen};
use etude::{Composer, LeftOut, RoomPitch};
use lesson::Lesson;
use rayon::prelude::*;
use score::{Direction, Element, Score};

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
    assert!(faults.is_empty(), "{} {}", faults.len(), faults.join("\n"));
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

/// Everyone's staves under each other: notes that begin together stand in one
/// column, and nothing touches either.
#[test]
fn scores_with_everyone_are_drawn_too() {
    for name in ["lantern-stairs", "five-ferries", "night-crossing"] {
        let path = folder().join(format!("{name}.toml"));
        let text = fs::read_to_string(&path).unwrap();
        let lesson = lesson_text::read(&text, name).unwrap().lesson;
        let composer = Composer::new(&lesson).unwrap();
        let rooms = etude::rooms(
            &lesson,
            composer.plans(),
            RoomPitch::Transposed,
            &AtomicBool::new(false),
        )
        .unwrap();
        let parts = &rooms[0].parts;
        assert!(parts.len() > 1);
        let sheet = engrave::room(parts, "Transposed score", Paper::A4);
        let faults: Vec<String> = sheet.pages.iter().flat_map(measured).collect();
        assert_eq!(faults, [""; 0], "{name}");
        let notes: usize = parts.iter().map(notes).sum();
        assert_eq!(count(&sheet, Role::Notehead), notes, "{name}");
        for page in &sheet.pages {
            let mut columns: BTreeMap<String, BTreeSet<i32>> = BTreeMap::new();
            for seen in page.seen().filter(|seen| seen.role == Role::Notehead) {
                let Some(note) = seen.note else { continue };
                let key = format!("{} {} {}", seen.frame, note.bar, note.onset);
                columns.entry(key).or_default().insert(seen.ink.left);
            }
            for (key, lefts) in columns {
                assert_eq!(lefts.len(), 1, "{name} {key}: {lefts:?}");
            }
        }
    }
}

#[test]
fn a_fault_on_a_page_is_seen() {
    let (_, score) = scores(&folder().join("lantern-stairs.toml")).remove(0);
    let sheet = engrave::sheet(&score, Paper::A4);
    let spoiled = |x: i32, y: i32| {
        let mut page = sheet.pages[0].clone();
        let at = page.frames.len() - 1;
        page.frames[at].x += x;
        page.frames[at].y += y;
        measured(&page).len()
    };
    assert_eq!(spoiled(0, 0), 0);
    assert_ne!(spoiled(12_000, 0), 0);
    assert_ne!(spoiled(0, -20_000), 0);
}

/// Faults of the pages that another program drew for us.
#[test]
fn faults_of_before() {
    let drawn = |more: &str, moves: &str, labels: &str, large: bool| {
        let text = format!(
            "title = \"Stairs\"\ninstruments = [\"alto saxophone\"]\nlabels = [{labels}]\n{more}\n\
             [keys]\nonly = [\"C\", \"Gb\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"{moves}\"\n\
             [[exercise]]\nkind = \"sequence\"\n"
        );
        let lesson = lesson_text::read(&text, "stairs")
            .unwrap_or_else(|faults| panic!("{faults:?} {text}"))
            .lesson;
        let composer = Composer::new(&lesson).unwrap();
        for plan in composer.plans() {
            let mut score = composer.compose(plan).unwrap().score;
            if large {
                score.page.staff_height = 110;
            }
            assert_eq!(faults(&score, Paper::A4), [""; 0], "{text}");
        }
    };
    // Ornaments' labels over one another, accidentals pushed onto heads.
    let ornaments = "start, from below, step up, from above, step up, from below, step up, step up";
    drawn("", ornaments, "\"moves\"", false);
    drawn(
        "",
        ornaments,
        "\"moves\", \"degrees\", \"counts\", \"note names\"",
        true,
    );
    // Latin names and large print that ran together.
    let steps = "start, step up, skip up, step down, step down, step up, up 3 steps, step down";
    drawn("note_names = \"latin\"", steps, "\"note names\"", false);
    drawn(
        "note_names = \"latin\"",
        steps,
        "\"note names\", \"moves\"",
        true,
    );
    drawn("", steps, "\"moves\"", true);
}

/// A given bar is no narrower than its notes want beside blank ones.
#[test]
fn given_bars_are_not_narrower_than_blank_ones() {
    let (_, score) = scores(&folder().join("quarry-answers.toml")).remove(0);
    let sheet = engrave::sheet(&score, Paper::A4);
    for page in &sheet.pages {
        for (frame, bars) in bars(page) {
            let widths: Vec<(bool, i32)> = bars;
            let narrowest = widths
                .iter()
                .filter(|(given, _)| *given)
                .map(|(_, width)| *width)
                .min();
            let widest = widths
                .iter()
                .filter(|(given, _)| !*given)
                .map(|(_, width)| *width)
                .max();
            if let (Some(given), Some(blank)) = (narrowest, widest) {
                assert!(given * 10 > blank * 8, "frame {frame}: {widths:?}");
            }
        }
    }
}

/// Whether each bar of each system has more than a few notes, and its width;
/// none for a bar of a few long ones.
fn bars(page: &Page) -> BTreeMap<usize, Vec<(bool, i32)>> {
    let mut edges: BTreeMap<usize, (Vec<i32>, Vec<i32>)> = BTreeMap::new();
    for seen in page.seen() {
        let own = edges.entry(seen.frame).or_default();
        match seen.role {
            Role::Barline => own.0.push(seen.ink.left),
            Role::Notehead => own.1.push(seen.ink.left),
            _ => (),
        }
    }
    edges
        .into_iter()
        .map(|(frame, (mut lines, heads))| {
            lines.sort_unstable();
            let widths = lines.windows(2).filter(|pair| pair[1] - pair[0] > 3_000);
            let bars = widths.filter_map(|pair| {
                let inside = heads
                    .iter()
                    .filter(|head| (pair[0]..pair[1]).contains(head));
                match inside.count() {
                    0 => Some((false, pair[1] - pair[0])),
                    1..4 => None,
                    _ => Some((true, pair[1] - pair[0])),
                }
            });
            (frame, bars.collect())
        })
        .collect()
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
        let sheet = engrave::sheet(&score, Paper::A4);
        engrave::png(&sheet.pages[0], 60).unwrap()
    };
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

/// Width, height and shades of grey.
type Picture = (u32, u32, Vec<u8>);

fn read(file: &[u8]) -> Picture {
    let mut reader = png::Decoder::new(std::io::Cursor::new(file))
        .read_info()
        .unwrap();
    let mut grey = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut grey).unwrap();
    assert_eq!(info.color_type, png::ColorType::Grayscale);
    (info.width, info.height, grey)
}

/// How far two pictures are apart, in thousandths of all black on white.
fn apart(one: &Picture, other: &Picture) -> u64 {
    if (one.0, one.1) != (other.0, other.1) {
        return 1000;
    }
    let bytes = one.2.iter().zip(&other.2);
    let sum: u64 = bytes
        .map(|(one, other)| u64::from(one.abs_diff(*other)))
        .sum();
    sum * 1000 / (one.2.len() as u64 * 255)
}

#[test]
fn a_pdf_says_its_texts() {
    for lesson in ["lantern-stairs", "coal-barge-blues", "one-breath"] {
        let (name, score) = scores(&folder().join(format!("{lesson}.toml"))).remove(0);
        let sheet = engrave::sheet(&score, Paper::A4);
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
        wanted.extend(score.chords.iter().map(|chord| chord.symbol.root.signs()));
        for measure in &score.part.measures {
            for direction in &measure.directions {
                if let Direction::Words(words) | Direction::Heading(words) = direction {
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

/// Headings and pictures of a PDF, as a screen reader finds them.
#[test]
fn a_pdf_is_tagged() {
    let (_, score) = scores(&folder().join("lantern-stairs.toml")).remove(0);
    let sheet = engrave::sheet(&score, Paper::A4);
    let bytes = engrave::pdf(&sheet.pages, &engrave::About::default()).unwrap();
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let mut tags: Vec<(String, String)> = Vec::new();
    for object in document.objects.values() {
        let Ok(dictionary) = object.as_dict() else {
            continue;
        };
        let Ok(kind) = dictionary.get(b"S").and_then(lopdf::Object::as_name) else {
            continue;
        };
        let said = dictionary.get(b"Alt").or_else(|_| dictionary.get(b"T"));
        let said = said
            .ok()
            .and_then(|text| lopdf::decode_text_string(text).ok());
        tags.push((
            String::from_utf8_lossy(kind).into_owned(),
            said.unwrap_or_default(),
        ));
    }
    let of = |kind: &str| tags.iter().filter(|(tag, _)| tag == kind).count();
    let says = |kind: &str, text: &str| tags.contains(&(kind.to_owned(), text.to_owned()));
    assert_eq!(of("H1"), 1, "{tags:?}");
    assert!(says("H1", &score.title), "{tags:?}");
    assert_eq!(of("H2"), sheet.exercises.len(), "{tags:?}");
    assert!(says("Figure", "bars 1 to 3"), "{tags:?}");
    let systems = sheet.pages.iter().flat_map(|page| &page.frames);
    let systems = systems.filter(|placed| matches!(placed.frame.tag, engrave::Tag::Figure(_)));
    assert_eq!(of("Figure"), systems.count());
}

/// The first and the last sheet of each horn, and the answers to the first.
fn scores(path: &Path) -> Vec<(String, Score)> {
    let stem = path.file_stem().unwrap().to_str().unwrap();
    let text = fs::read_to_string(path).unwrap();
    let read = match lesson_text::read(&text, stem) {
        Ok(read) => read,
        Err(mistakes) => {
            // Those that name a lead sheet are read with it elsewhere.
            assert!(text.contains("lead_sheet = "), "{stem}: {mistakes:?}");
            return Vec::new();
        }
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
            match composer.compose(plan) {
                Ok(sheet) => scores.push((name.clone(), sheet.score)),
                // A horn may be too small for one of a lesson's keys.
                Err(LeftOut::OffTheHorn { .. }) => continue,
                Err(why) => unreachable!("{name}: {why}"),
            }
            if let Some(sheet) = composer.answers(plan).unwrap() {
                scores.push((name + " answers", sheet.score));
            }
        }
    }
    assert!(scores.len() >= HORNS.len(), "{stem}: {}", scores.len());
    scores
}

fn faults(score: &Score, paper: Paper) -> Vec<String> {
    let sheet = engrave::sheet(score, paper);
    let mut faults = counted(score, &sheet);
    for (place, page) in sheet.pages.iter().enumerate() {
        let here = measured(page).into_iter().chain(spaced(page));
        faults.extend(here.map(|fault| format!("page {}: {fault}", place + 1)));
    }
    if !sheet.missing.is_empty() {
        faults.push(format!("no font has {:?}", sheet.missing));
    }
    faults
}

fn count(sheet: &DrawnSheet, role: Role) -> usize {
    let pages = sheet.pages.iter();
    pages
        .flat_map(Page::seen)
        .filter(|seen| seen.role == role)
        .count()
}

fn elements(score: &Score) -> impl Iterator<Item = &Element> {
    let measures = score.part.measures.iter();
    measures.flat_map(|measure| &measure.elements)
}

fn notes(score: &Score) -> usize {
    let notes = |element: &&Element| matches!(element, Element::Note(_));
    elements(score).filter(notes).count()
}

/// As many of each kind as the score has.
fn counted(score: &Score, sheet: &DrawnSheet) -> Vec<String> {
    let rests = |element: &&Element| matches!(element, Element::Rest(rest) if !rest.hidden);
    let slashes = |element: &&Element| matches!(element, Element::Slash(_));
    let chords = |element: &&Element| element.written().chord.is_some();
    let accidentals = elements(score).filter_map(|element| match element {
        Element::Note(note) => note.accidental,
        _ => None,
    });
    let accidentals = accidentals.map(|sign| if sign.courtesy { 3 } else { 1 });
    let labels = elements(score).filter_map(|element| match element {
        Element::Note(note) => Some(note),
        Element::Slash(slash) => Some(&slash.note),
        Element::Rest(_) => None,
    });
    let labels = labels.map(|note| {
        note.lyrics
            .iter()
            .flatten()
            .filter(|text| !text.is_empty())
            .count()
    });
    let wanted = [
        (Role::Notehead, notes(score)),
        (Role::Rest, elements(score).filter(rests).count()),
        (Role::Slash, elements(score).filter(slashes).count()),
        (Role::Chord, elements(score).filter(chords).count()),
        (Role::Accidental, accidentals.sum()),
        (Role::Label, labels.sum()),
    ];
    let wrong = wanted.into_iter().filter_map(|(role, wanted)| {
        let drawn = count(sheet, role);
        (drawn != wanted).then(|| format!("{drawn} of {wanted} {}s", role.class()))
    });
    wrong.collect()
}

/// What stands outside of the page, texts that touch each other or the music,
/// and marks of one note that touch those of another.
fn measured(page: &Page) -> Vec<String> {
    let [width, height] = [page.paper.width(), page.paper.height()];
    let mut faults = Vec::new();
    let seen: Vec<Seen<'_>> = page.seen().collect();
    for one in &seen {
        let ink = one.ink;
        if ink.left < MARGIN
            || ink.top < MARGIN
            || ink.right > width - MARGIN
            || ink.bottom > height - MARGIN
        {
            faults.push(format!("{} leaves the page", said(one)));
        }
    }
    let solid: Vec<&Seen<'_>> = seen.iter().filter(|one| is_solid(one.role)).collect();
    for (place, one) in solid.iter().enumerate() {
        for other in &solid[place + 1..] {
            if may_touch(one, other) {
                continue;
            }
            let [a, b] = [one.ink, other.ink].map(|ink| Ink {
                left: ink.left + EDGE,
                top: ink.top + EDGE,
                right: ink.right - EDGE,
                bottom: ink.bottom - EDGE,
            });
            if a.meets(&b) {
                faults.push(format!("{} touches {}", said(one), said(other)));
            }
        }
    }
    faults
}

fn said(one: &Seen<'_>) -> String {
    let text = one.text.clone().unwrap_or_default();
    let bar = one.note.map_or(String::new(), |note| {
        format!(" of bar {} at {}", note.bar, note.onset)
    });
    format!("{} {text:?}{bar} at {:?}", one.role.class(), one.ink)
}

/// What has a place of its own: not the lines that others stand on, nor what
/// hangs over them in a slant.
fn is_solid(role: Role) -> bool {
    !matches!(
        role,
        Role::Staff | Role::Ledger | Role::Beam | Role::Tie | Role::Slur
    )
}

/// Parts of one thing: a note's own marks, a letter and its frame, a meter's or
/// a dynamic's figures, a bracket and its number, bar lines and brackets.
fn may_touch(one: &Seen<'_>, other: &Seen<'_>) -> bool {
    let both = |role: Role| one.role == role && other.role == role;
    let same_note = one.note.is_some() && one.frame == other.frame && same(one.note, other.note);
    let in_text = one.text.is_none() || other.text.is_none();
    let framed = [Role::Letter, Role::Text, Role::Tempo]
        .into_iter()
        .any(both);
    (in_text && (same_note || framed))
        || both(Role::Meter)
        || both(Role::Signature)
        || both(Role::Dynamic)
        || both(Role::Tuplet)
        || both(Role::Barline)
        || both(Role::Bracket)
        || (one.role == Role::Bracket && other.role == Role::Barline)
        || (one.role == Role::Barline && other.role == Role::Bracket)
}

fn same(one: Option<&NotePlace>, other: Option<&NotePlace>) -> bool {
    one == other
}

/// A note of a bar, its left edge, and all its ink.
type Spaced<'a> = (&'a NotePlace, i32, Ink);

/// Equal notes of a bar that differ in distance though no ink forces them.
fn spaced(page: &Page) -> Vec<String> {
    let mut faults = Vec::new();
    let mut bars: BTreeMap<(usize, String), Vec<Spaced<'_>>> = BTreeMap::new();
    for seen in page.seen() {
        let Some(note) = seen.note else { continue };
        let bar = bars.entry((seen.frame, note.bar.clone())).or_default();
        match bar.iter_mut().find(|(known, ..)| *known == note) {
            Some((_, left, ink)) => {
                if matches!(seen.role, Role::Notehead | Role::Rest) {
                    *left = seen.ink.left;
                }
                *ink = Ink {
                    left: ink.left.min(seen.ink.left),
                    right: ink.right.max(seen.ink.right),
                    ..*ink
                };
            }
            None => bar.push((note, seen.ink.left, seen.ink)),
        }
    }
    let chords: Vec<Seen<'_>> = page
        .seen()
        .filter(|seen| seen.role == Role::Chord)
        .collect();
    let ties: Vec<Seen<'_>> = page.seen().filter(|seen| seen.role == Role::Tie).collect();
    let tied = |frame: usize, left: i32, right: i32| {
        let inside = |tie: &&Seen<'_>| tie.ink.left >= left && tie.ink.right <= right;
        ties.iter()
            .filter(|tie| tie.frame == frame)
            .any(|tie| inside(&tie))
    };
    // Where chord symbols stand close, they force the notes under them.
    let crowded = |frame: usize, left: i32, right: i32| {
        chords.windows(2).any(|pair| {
            pair[0].frame == frame
                && pair[1].frame == frame
                && pair[1].ink.left - pair[0].ink.right < page.frames[frame].thousand * 3 / 2
                && pair[0].ink.left < right
                && pair[1].ink.left > left
        })
    };
    for ((frame, bar), notes) in bars {
        let left = notes.iter().map(|(_, left, _)| *left).min().unwrap_or(0);
        let right = notes.iter().map(|(_, left, _)| *left).max().unwrap_or(0);
        if crowded(frame, left, right) {
            continue;
        }
        let ways: Vec<(String, i32, i32)> = notes
            .windows(2)
            .map(|pair| {
                let [(one, left, ink), (_, next, other)] = [pair[0], pair[1]];
                // A tie needs its length.
                let room = match tied(frame, left, next + 2_000) {
                    true => 0,
                    false => other.left - ink.right,
                };
                (one.length.to_string(), next - left, room)
            })
            .collect();
        for (length, way, ink) in &ways {
            let alike = ways.iter().filter(|(other, ..)| other == length);
            let least = alike.map(|(_, way, _)| *way).min().unwrap_or(*way);
            // Forced is what stands no further from its neighbour than it must.
            let near = page.frames[frame].thousand * 7 / 10;
            if way * 100 > least * 105 && *ink > near {
                faults.push(format!("bar {bar}: {length} takes {least} and {way}"));
            }
        }
    }
    faults
}

/// What printers leave white.
const MARGIN: i32 = 5_000;

/// Micrometres by which boxes may share an edge: ink is rounder than the box
/// around it.
const EDGE: i32 = 150;

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
