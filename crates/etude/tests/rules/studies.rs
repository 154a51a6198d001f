//! Etudes of any length, on any horn, in any key: what every one of them
//! promises.

use std::fmt::Write;
use std::sync::atomic::{AtomicBool, Ordering};

use etude::{Composer, LeftOut, PhrasePart, Remark, UnmetWish};
use proptest::prelude::*;
use rhythm::Fraction;
use score::sounding_notes;

use crate::chord_kinds::{KINDS, ROOTS};
use crate::support::{check, lesson};

/// Moves and counts of figures in 4/4.
const FIGURES: [(&str, &str); 6] = [
    ("start, step up, step up, skip up", "1 & 2 & (3 4)"),
    (
        "start, step up, step up, step up, step down, step down",
        "1 & 2 & 3 & (4)",
    ),
    ("start, up 2 steps, step down", "1 2 3"),
    ("start, from below, repeat, skip up, step down", "1 & 2 & 3"),
    ("start, step down, skip up", "4 | 1 & (2 3)"),
    ("start, repeat", "(1) & 2"),
];

const CONNECT: [&str; 3] = ["", "connect = \"approach\"\n", "connect = \"run\"\n"];

const CHORUSES: [&str; 4] = [
    "",
    "choruses = [\"line\", \"elsewhere\"]\n",
    "choruses = [\"line\", \"denser\", \"slashes\"]\n",
    "plan = \"3 bars play, 1 bar rest\"\n",
];

type Chord = (usize, usize);

fn chord() -> impl Strategy<Value = Chord> {
    (0..ROOTS.len(), 0..KINDS.len())
}

fn text(bars: &[(Chord, Option<Chord>)]) -> String {
    let named = |(root, kind): Chord| format!("{}{}", ROOTS[root].0, KINDS[kind].suffix);
    let mut said = String::new();
    for (first, second) in bars {
        write!(said, "| {} ", named(*first)).unwrap();
        if let Some(second) = second {
            write!(said, "{} ", named(*second)).unwrap();
        }
    }
    said + "|"
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 200,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]
    #[test]
    fn what_every_etude_promises(
        bars in prop::collection::vec((chord(), prop::option::weighted(0.2, chord())), 4..11),
        figures in prop::sample::subsequence((0..FIGURES.len()).collect::<Vec<_>>(), 1..4),
        variants in any::<bool>(),
        (connect, shift, choruses) in (0..CONNECT.len(), any::<bool>(), 0..CHORUSES.len()),
        (phrase, high_point, seed) in (0..6, 0..6, any::<u32>()),
        (instrument, key) in (0usize..40, 0usize..12),
    ) {
        let catalogue = theory::Instrument::catalogue();
        let instrument = &catalogue[instrument % catalogue.len()];
        let mut said = format!(
            "instruments = [\"{}\"]\n[changes]\nkey = \"C\"\nbars = \"{}\"\n",
            instrument.id,
            text(&bars)
        );
        let mut names = Vec::new();
        for figure in &figures {
            let (moves, count) = FIGURES[*figure];
            names.push(format!("\"{figure}\""));
            write!(said, "[[figure]]\nname = \"{figure}\"\nmoves = \"{moves}\"\ncount = \"{count}\"\n").unwrap();
        }
        write!(said, "[[exercise]]\nkind = \"changes\"\nfigures = [{}]\n", names.join(", ")).unwrap();
        said += CONNECT[connect];
        said += CHORUSES[choruses];
        if variants {
            said += "variants = [\"as it is\", \"flipped\"]\n";
        }
        if shift {
            said += "shift = \"over the bar\"\n";
        }
        write!(said, "weights = {{ phrase = {phrase}, high_point = {high_point} }}\nseed = {seed}\n").unwrap();
        let lesson = lesson(&said);
        let composer = Composer::new(&lesson).unwrap();
        let plan = &composer.plans()[key];
        let Ok(sheet) = composer.compose(plan) else { return Ok(()) };
        let told = &sheet.report.exercises[0];
        let range = lesson.players[0].range(lesson.players[0].level);
        let notes = sounding_notes(&sheet.score);
        let mut end = Fraction::ZERO;
        for note in &notes {
            prop_assert!(range.holds(note.written), "{} in {said}", note.written);
            prop_assert!(note.length > Fraction::ZERO);
            prop_assert!(note.onset >= end, "{} overlaps in {said}", note.written);
            end = note.onset + note.length;
        }
        let midi = |place: usize| i32::from(notes[place].written.midi());
        let statement = |place: usize| usize::from(notes[place].origin.statement);
        let is_etude = phrase > 0 || high_point > 0 || connect > 0 || shift;
        let told_of = |wish| {
            let wish = Remark::Wish(wish);
            told.remarks.iter().any(|one| one.remark == wish)
        };
        if is_etude && !told_of(UnmetWish::Leap) {
            for place in 1..notes.len() {
                if statement(place) != statement(place - 1) {
                    prop_assert!((midi(place) - midi(place - 1)).abs() <= 12, "{said}");
                }
            }
        }
        // The line ends on a tone of its chord.
        let last = notes.last().unwrap();
        let chord = &told.statements.last().unwrap().chord;
        let tones: Vec<u8> = chord.tones().iter().map(|tone| tone.class()).collect();
        prop_assert!(tones.contains(&last.written.name().class()), "{said}");
        if phrase > 0 {
            prop_assert_eq!(told.statements.last().unwrap().part, Some(PhrasePart::End));
        }
        // One high point, past the middle, or told.
        let top = (0..notes.len()).map(midi).max().unwrap();
        let mut reach: Vec<usize> = (0..notes.len()).filter(|place| midi(*place) == top).map(statement).collect();
        reach.dedup();
        let none = told_of(UnmetWish::NoHighPoint);
        let elsewhere = told.remarks.iter().find_map(|one| match &one.remark {
            Remark::Wish(UnmetWish::HighPointElsewhere { bar }) => Some(*bar),
            _ => None,
        });
        if high_point > 0 && !none {
            prop_assert_eq!(reach.len(), 1, "{}", said);
            let one = &told.statements[reach[0]];
            prop_assert!(one.high_point.is_some());
            let choruses = lesson.exercises[0].kind.over().unwrap().choruses.len();
            let before = 100 * (one.bar - 1);
            let all = (bars.len() * choruses) as i64;
            match elsewhere {
                Some(bar) => prop_assert_eq!(bar, one.bar),
                None => prop_assert!((55 * all..=75 * all).contains(&before), "{}", said),
            }
        } else {
            prop_assert!(told.statements.iter().all(|one| one.high_point.is_none()));
            prop_assert_eq!(none, high_point > 0);
            prop_assert_eq!(elsewhere, None);
        }
        let shifts: Vec<i8> = told.statements.iter().map(|one| one.shift).collect();
        prop_assert!(shifts.windows(3).all(|three| three[0] == 0 || three.iter().any(|one| *one != three[0])));
        prop_assert!(shift || shifts.iter().all(|one| *one == 0));
        let connected = told.statements.iter().any(|one| one.join.is_some_and(|join| join.led.is_some()));
        prop_assert!(connect > 0 || !connected);
        if seed % 8 == 0 {
            prop_assert_eq!(composer.compose(plan).unwrap(), sheet);
        }
    }
}

/// The call, the same from a step higher, the denser figure, and an end on a
/// held tone of the chord; each joined by a step.
#[test]
fn a_phrase_is_said_answered_made_denser_and_rests() {
    check(
        "[keys]\nonly = [\"C\"]\n[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"C6\"\n\
         [changes]\nkey = \"C\"\nbars = \"| Cmaj7 | same | same | same |\"\n\
         [[figure]]\nname = \"call\"\nmoves = \"start, step up, step up\"\ncount = \"1 2 3\"\n\
         [[figure]]\nname = \"run\"\nmoves = \"start, step up, step up, step up, step down\"\ncount = \"1 & 2 & 3\"\n\
         [[exercise]]\nkind = \"changes\"\nfigures = [\"call\", \"run\"]\n\
         weights = { phrase = 5 }\n",
        "G4/2 A4/2 B4/4 | A4/2 B4/2 C5/4 | B4 C5 D5 E5 D5/4 | C5/2 D5/2 E5/4",
    );
}

#[test]
fn a_line_over_changes_can_be_stopped() {
    let text = "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\nbars = \"| C6 | G7 |\"\n\
        [figure]\ndegrees = \"1 2 3\"\n[[exercise]]\nkind = \"changes\"\n";
    let lesson = lesson(text);
    let stop = AtomicBool::new(false);
    let composer = Composer::new(&lesson).unwrap().until(&stop);
    assert!(composer.compose(&composer.plans()[0]).is_ok());
    stop.store(true, Ordering::Relaxed);
    let stopped = composer.compose(&composer.plans()[0]).unwrap_err();
    assert_eq!(stopped, LeftOut::Stopped);
}
