//! Any note of any score comes back as it was, and its elements stand in the
//! schema's order.

use proptest::prelude::*;
use rhythm::{Beam, Beams, NoteValue, Tuplet, TupletEdge, ValueKind};
use score::{
    About, Accidental, Element, HeadLine, Lyrics, Marks, Measure, Note, Rest, Slash, Written,
};
use theory::{Letter, Pitch};

use super::building::note as note_of;
use super::sheets;
use super::tree::Tree;

proptest! {
    #[test]
    fn elements_come_back(elements in prop::collection::vec(element(), 0..12)) {
        let mut score = sheets::bare();
        score.part.measures = vec![Measure { number: 1, elements: elements.clone(), ..Measure::default() }];
        let root = Tree::read(&sheets::document(&score));
        let measure = root.find("part/measure").unwrap();
        let read: Vec<&Tree> = measure.all("note").collect();
        prop_assert_eq!(read.len(), elements.len());
        for (tree, element) in read.into_iter().zip(&elements) {
            check_order(tree);
            match element {
                Element::Note(note) => check_note(tree, note),
                Element::Rest(rest) => check_rest(tree, rest),
                Element::Slash(slash) => check_slash(tree, slash),
            }
        }
    }

    #[test]
    fn texts_come_back(title in any::<String>(), lines in prop::collection::vec(any::<String>(), 0..6)) {
        let mut score = sheets::bare();
        score.title = title;
        score.subtitle = lines.first().cloned();
        score.head = lines.iter().map(|line| HeadLine::new(About::Player, line.as_str())).collect();
        let root = Tree::read(&sheets::document(&score));
        prop_assert_eq!(root.text("movement-title").unwrap(), writable(&score.title));
        let mut credits: Vec<String> = root.all("credit").map(|c| c.text("credit-words").unwrap().to_owned()).collect();
        let mut expected: Vec<String> =
            [&score.title].into_iter().chain(&score.subtitle).chain(&lines).map(|text| writable(text)).collect();
        credits.sort();
        expected.sort();
        prop_assert_eq!(credits, expected);
    }
}

/// MusicXML 4.0, complex type `note`: the children that we write, in order.
const ORDER: [&str; 14] = [
    "pitch",
    "rest",
    "duration",
    "tie",
    "voice",
    "type",
    "dot",
    "accidental",
    "time-modification",
    "stem",
    "notehead",
    "beam",
    "notations",
    "lyric",
];

fn check_order(note: &Tree) {
    let places: Vec<_> = note
        .children
        .iter()
        .map(|child| ORDER.iter().position(|name| *name == child.name))
        .collect();
    assert!(
        places.iter().all(Option::is_some) && places.is_sorted(),
        "{note:?}"
    );
}

/// MusicXML 4.0, `notehead-value` slash; `stem-value` none.
fn check_slash(tree: &Tree, slash: &Slash) {
    check_note(tree, &slash.note);
    assert_eq!(tree.text("notehead"), Some("slash"));
    let stem = (!slash.rhythmic).then_some("none");
    assert_eq!(tree.text("stem"), stem);
}

/// MusicXML 4.0, `slur` and `articulations` among the notations, a slur's
/// stop before another's start.
fn check_marks(tree: &Tree, marks: Marks) {
    let children = |path: &str| {
        let found = tree.find(path);
        found.map_or(&[][..], |found| found.children.as_slice())
    };
    let mut slurs = Vec::new();
    slurs.extend(marks.slur_ends.then_some("stop"));
    slurs.extend(marks.slur_begins.then_some("start"));
    let drawn = children("notations")
        .iter()
        .filter(|child| child.name == "slur");
    assert!(drawn.map(|slur| slur.attribute("type").unwrap()).eq(slurs));
    let signs = [
        (marks.accent, "accent"),
        (marks.staccato, "staccato"),
        (marks.tenuto, "tenuto"),
        (marks.scoop, "scoop"),
        (marks.doit, "doit"),
        (marks.fall, "falloff"),
        (marks.breath, "breath-mark"),
    ];
    let expected = signs.into_iter().filter(|(there, _)| *there);
    let read = children("notations/articulations").iter();
    assert!(
        read.map(|sign| sign.name.as_str())
            .eq(expected.map(|(_, sign)| sign)),
        "{tree:?}"
    );
}

fn check_note(tree: &Tree, note: &Note) {
    check_marks(tree, note.marks);
    // A slash's head is its own.
    let head = tree.find("notehead").filter(|head| head.text == "normal");
    let parentheses = head.and_then(|head| head.attribute("parentheses"));
    let slashed = tree.text("notehead") == Some("slash");
    assert_eq!(parentheses, (note.marks.ghost && !slashed).then_some("yes"));
    let letter = tree
        .text("pitch/step")
        .unwrap()
        .chars()
        .next()
        .and_then(Letter::from_char)
        .unwrap();
    let alter = tree.number("pitch/alter");
    assert_ne!(alter, Some(0), "a natural note has no alter");
    let octave = tree.number("pitch/octave").unwrap() as i16;
    assert_eq!(
        Pitch::new(letter, alter.unwrap_or(0) as i16, octave),
        note.pitch
    );
    check_value(tree, &note.written);
    let sign = tree.find("accidental").map(|sign| {
        (
            sign.text.as_str(),
            sign.attribute("cautionary") == Some("yes"),
        )
    });
    let expected = note.accidental.map(|a| {
        let signs = ["flat-flat", "flat", "natural", "sharp", "double-sharp"];
        (signs[(note.pitch.alteration() + 2) as usize], a.courtesy)
    });
    assert_eq!(sign, expected);
    let mut ties = Vec::new();
    ties.extend(note.tied_from.then_some("stop"));
    ties.extend(note.tied_to.then_some("start"));
    assert_eq!(
        tree.all("tie")
            .map(|tie| tie.attribute("type").unwrap())
            .collect::<Vec<_>>(),
        ties
    );
    let drawn: Option<Vec<_>> = tree.find("notations").map(|n| {
        n.all("tied")
            .map(|tie| tie.attribute("type").unwrap())
            .collect()
    });
    assert_eq!(drawn.unwrap_or_default(), ties);
    let beams = note
        .beams
        .iter()
        .flatten()
        .enumerate()
        .map(|(level, beam)| {
            let word = match beam {
                Beam::Begin => "begin",
                Beam::Continue => "continue",
                Beam::End => "end",
                Beam::ForwardHook => "forward hook",
                Beam::BackwardHook => "backward hook",
            };
            ((level + 1).to_string(), word)
        });
    let read = tree.all("beam").map(|beam| {
        (
            beam.attribute("number").unwrap().to_owned(),
            beam.text.as_str(),
        )
    });
    assert!(read.eq(beams), "{tree:?}");
    let lyrics = note.lyrics.iter().enumerate().filter_map(|(row, lyric)| {
        lyric
            .as_ref()
            .map(|lyric| ((row + 1).to_string(), "single".to_owned(), writable(lyric)))
    });
    let read = tree.all("lyric").map(|lyric| {
        let text = |path| lyric.text(path).unwrap().to_owned();
        (
            lyric.attribute("number").unwrap().to_owned(),
            text("syllabic"),
            text("text"),
        )
    });
    assert!(read.eq(lyrics), "{tree:?}");
}

fn check_rest(tree: &Tree, rest: &Rest) {
    let measure = tree.find("rest").unwrap().attribute("measure");
    assert_eq!(measure, rest.whole_bar.then_some("yes"));
    if rest.whole_bar {
        assert_eq!(tree.number("duration"), Some(rest.written.length.into()));
        assert!(
            ["type", "dot", "time-modification", "notations"]
                .iter()
                .all(|name| tree.find(name).is_none())
        );
    } else {
        check_value(tree, &rest.written);
    }
}

fn check_value(tree: &Tree, written: &Written) {
    assert_eq!(tree.number("duration"), Some(written.length.into()));
    assert_eq!(tree.text("voice"), Some("1"));
    assert_eq!(tree.text("type"), Some(kind(written.value.kind)));
    assert_eq!(tree.all("dot").count(), usize::from(written.value.dots));
    let ratio = tree
        .find("time-modification")
        .map(|t| (t.number("actual-notes"), t.number("normal-notes")));
    let tuplet = written.value.tuplet;
    assert_eq!(
        ratio,
        tuplet.map(|t| (Some(t.actual.into()), Some(t.normal.into())))
    );
    let unit = tuplet
        .filter(|t| t.unit != written.value.kind || written.value.dots > 0)
        .map(|t| kind(t.unit));
    assert_eq!(tree.text("time-modification/normal-type"), unit);
    let edge = tree
        .find("notations/tuplet")
        .map(|t| (t.attribute("type").unwrap(), t.attribute("bracket")));
    let expected = written.edge.map(|edge| match edge {
        TupletEdge::Start { bracket } => ("start", Some(if bracket { "yes" } else { "no" })),
        TupletEdge::Stop => ("stop", None),
    });
    assert_eq!(edge, expected);
}

/// MusicXML 4.0 `note-type-value`.
fn kind(kind: ValueKind) -> &'static str {
    [
        "64th", "32nd", "16th", "eighth", "quarter", "half", "whole", "breve",
    ][kind as usize]
}

/// XML 1.0 (fifth edition), production [2] Char; the rest becomes U+FFFD.
fn writable(text: &str) -> String {
    let allowed = |c: char| matches!(c, '\t' | '\n' | '\r' | ' '..='\u{FFFD}' | '\u{10000}'..);
    text.chars()
        .map(|c| if allowed(c) { c } else { '\u{FFFD}' })
        .collect()
}

fn element() -> impl Strategy<Value = Element> {
    prop_oneof![
        4 => note().prop_map(Element::Note),
        1 => (note(), any::<bool>()).prop_map(|(note, rhythmic)| Element::Slash(Slash { note, rhythmic })),
        1 => (written(), any::<(bool, bool)>()).prop_map(|(written, (whole_bar, hidden))| Element::Rest(Rest { written, whole_bar, hidden })),
    ]
}

fn note() -> impl Strategy<Value = Note> {
    let pitch =
        (0..7usize, -2i16..=2, 0i16..=9).prop_map(|(l, a, o)| Pitch::new(Letter::ALL[l], a, o));
    let accidental = prop::option::of(any::<bool>().prop_map(|courtesy| Accidental { courtesy }));
    (
        pitch,
        written(),
        accidental,
        any::<(bool, bool)>(),
        beams(),
        lyrics(),
        marks(),
    )
        .prop_map(
            |(pitch, written, accidental, (tied_from, tied_to), beams, lyrics, marks)| Note {
                written,
                accidental,
                tied_from,
                tied_to,
                beams,
                lyrics,
                marks,
                ..note_of(pitch)
            },
        )
}

fn marks() -> impl Strategy<Value = Marks> {
    any::<[bool; 10]>().prop_map(
        |[
            slur_ends,
            slur_begins,
            accent,
            staccato,
            tenuto,
            breath,
            ghost,
            fall,
            scoop,
            doit,
        ]| Marks {
            slur_ends,
            slur_begins,
            accent,
            staccato,
            tenuto,
            breath,
            ghost,
            fall,
            scoop,
            doit,
        },
    )
}

fn written() -> impl Strategy<Value = Written> {
    let tuplet = (2u16..20, 2u16..20, value_kind()).prop_map(|(actual, normal, unit)| Tuplet {
        actual,
        normal,
        unit,
    });
    let edge = prop_oneof![
        any::<bool>().prop_map(|bracket| TupletEdge::Start { bracket }),
        Just(TupletEdge::Stop),
    ];
    (
        any::<u32>(),
        value_kind(),
        0u8..4,
        prop::option::of(tuplet),
        prop::option::of(edge),
    )
        .prop_map(|(length, kind, dots, tuplet, edge)| Written {
            length,
            value: NoteValue { kind, dots, tuplet },
            edge,
            chord: None,
        })
}

fn value_kind() -> impl Strategy<Value = ValueKind> {
    use ValueKind::{Breve, Eighth, Half, Quarter, Sixteenth, SixtyFourth, ThirtySecond, Whole};
    prop::sample::select(vec![
        SixtyFourth,
        ThirtySecond,
        Sixteenth,
        Eighth,
        Quarter,
        Half,
        Whole,
        Breve,
    ])
}

fn beams() -> impl Strategy<Value = Beams> {
    let beam = prop::sample::select(vec![
        Beam::Begin,
        Beam::Continue,
        Beam::End,
        Beam::ForwardHook,
        Beam::BackwardHook,
    ]);
    prop::collection::vec(beam, 0..=4).prop_map(|given| {
        let mut beams = Beams::default();
        beams
            .iter_mut()
            .zip(given)
            .for_each(|(level, beam)| *level = Some(beam));
        beams
    })
}

fn lyrics() -> impl Strategy<Value = Lyrics> {
    prop::array::uniform4(prop::option::weighted(
        0.3,
        any::<String>().prop_map(Into::into),
    ))
}
