//! The words of a lesson and what they mean.

use lesson::{
    Breath, ChorusKind, ComingDown, Connect, Direction, Dynamic, Ending, Hide, KindName, Label,
    Named, NoteNames, Paper, SayName, Shift, Span, TooWide, TrackClick, TrackForm, TrackStyle,
};
use theory::{Clef, ClefSign, Level, Preference, SignatureStyle, SpellingStyle};

use crate::language::choice::Choices;

pub(crate) const LEVELS: Choices<Level> = &[
    ("beginner", Level::Beginner),
    ("intermediate", Level::Intermediate),
    ("advanced", Level::Advanced),
];

pub(crate) const SIGNATURES: Choices<SignatureStyle> = &[
    ("fitting", SignatureStyle::Fitting),
    ("tonic", SignatureStyle::Tonic),
    ("none", SignatureStyle::None),
];

pub(crate) const SPELLINGS: Choices<SpellingStyle> = &[
    ("readable", SpellingStyle::Readable),
    ("strict", SpellingStyle::Strict),
];

pub(crate) const LABELS: Choices<Label> = &[
    ("degrees", Label::Degrees),
    ("counts", Label::Counts),
    ("moves", Label::Moves),
    ("note names", Label::NoteNames),
    ("solfege", Label::Solfege),
    ("valves", Label::Valves),
    ("positions", Label::Positions),
];

pub(crate) const PAPERS: Choices<Paper> = &[("a4", Paper::A4), ("letter", Paper::Letter)];

pub(crate) const NAMED: Choices<Named> =
    &[("concert", Named::Concert), ("written", Named::Written)];

pub(crate) const PREFERENCES: Choices<Preference> =
    &[("sharps", Preference::Sharps), ("flats", Preference::Flats)];

/// Kinds; none for a line of another kind that the student writes out.
pub(crate) const KINDS: Choices<Option<KindName>> = &{
    let mut kinds = [("write out", None); KindName::ALL.len() + 1];
    let mut at = 0;
    while at < KindName::ALL.len() {
        kinds[at] = (KindName::ALL[at].word(), Some(KindName::ALL[at]));
        at += 1;
    }
    kinds
};

/// Whether every second statement of a study is turned backwards.
pub(crate) const PATTERNS: Choices<bool> = &[("straight", false), ("broken", true)];

pub(crate) const SAYINGS: Choices<SayName> =
    &[("figure", SayName::Figure), ("sequence", SayName::Sequence)];

/// What an exercise may be that the student writes out, the usual one first.
pub(crate) const LINES: Choices<KindName> = &[
    (KindName::Keys.word(), KindName::Keys),
    (KindName::Scale.word(), KindName::Scale),
    (KindName::Figure.word(), KindName::Figure),
    (KindName::Sequence.word(), KindName::Sequence),
    (KindName::Intervals.word(), KindName::Intervals),
    (KindName::Runs.word(), KindName::Runs),
];

pub(crate) const NOTE_NAMES: Choices<NoteNames> = &[
    ("english", NoteNames::English),
    ("german", NoteNames::German),
    ("latin", NoteNames::Latin),
];

pub(crate) const CHORUSES: Choices<ChorusKind> = &[
    ("line", ChorusKind::Line),
    ("elsewhere", ChorusKind::Elsewhere),
    ("flipped", ChorusKind::Flipped),
    ("later", ChorusKind::Later),
    ("denser", ChorusKind::Denser),
    ("slashes", ChorusKind::Slashes),
];

pub(crate) const CONNECTS: Choices<Connect> = &[
    ("none", Connect::None),
    ("approach", Connect::Approach),
    ("run", Connect::Run),
];

pub(crate) const SHIFTS: Choices<Shift> =
    &[("none", Shift::None), ("over the bar", Shift::OverTheBar)];

pub(crate) const BREATHS: Choices<Breath> = &[
    ("mark", Breath::Mark),
    ("rest", Breath::Rest),
    ("none", Breath::None),
];

pub(crate) const DYNAMICS: Choices<Dynamic> = &[
    ("pp", Dynamic::Pianissimo),
    ("p", Dynamic::Piano),
    ("mp", Dynamic::MezzoPiano),
    ("mf", Dynamic::MezzoForte),
    ("f", Dynamic::Forte),
    ("ff", Dynamic::Fortissimo),
];

pub(crate) const HIDES: Choices<Hide> = &[
    ("notes", Hide::Notes),
    ("chords", Hide::Chords),
    ("degrees", Hide::Degrees),
];

pub(crate) const DIRECTIONS: Choices<Direction> = &[
    ("up", Direction::Up),
    ("down", Direction::Down),
    ("up and down", Direction::UpAndDown),
];

pub(crate) const COMING_DOWN: Choices<ComingDown> = &[
    ("flipped", ComingDown::Flipped),
    ("reversed", ComingDown::Reversed),
    ("as it is", ComingDown::AsItIs),
];

pub(crate) const SPANS: Choices<Span> = &[
    ("one octave", Span::OneOctave),
    ("two octaves", Span::TwoOctaves),
    ("whole horn", Span::WholeHorn),
];

pub(crate) const TOO_WIDE: Choices<TooWide> = &[
    ("turn early", TooWide::TurnEarly),
    ("jump", TooWide::Jump),
    ("leave out", TooWide::LeaveOut),
];

pub(crate) const ENDINGS: Choices<Ending> = &[("root", Ending::Root), ("none", Ending::None)];

pub(crate) const TRACK_FORMS: Choices<TrackForm> = &[
    ("backing", TrackForm::Backing),
    ("line alone", TrackForm::LineAlone),
    ("answer", TrackForm::Answer),
    ("slow", TrackForm::Slow),
    ("all keys", TrackForm::AllKeys),
];

pub(crate) const TRACK_STYLES: Choices<TrackStyle> = &[
    ("swing", TrackStyle::Swing),
    ("two beat", TrackStyle::TwoBeat),
    ("waltz", TrackStyle::Waltz),
    ("bossa", TrackStyle::Bossa),
    ("funk", TrackStyle::Funk),
    ("shuffle", TrackStyle::Shuffle),
    ("ballad", TrackStyle::Ballad),
    ("even eighths", TrackStyle::EvenEighths),
    ("drone", TrackStyle::Drone),
    ("plain", TrackStyle::Plain),
];

pub(crate) const TRACK_CLICKS: Choices<TrackClick> = &[
    ("all beats", TrackClick::AllBeats),
    ("2 and 4", TrackClick::TwoAndFour),
    ("beat 1", TrackClick::BeatOne),
    ("none", TrackClick::None),
];

pub(crate) const CLEFS: Choices<Clef> = &[
    ("treble", clef(ClefSign::G, 2, 0)),
    ("treble 8 below", clef(ClefSign::G, 2, -1)),
    ("bass", clef(ClefSign::F, 4, 0)),
    ("alto", clef(ClefSign::C, 3, 0)),
    ("tenor", clef(ClefSign::C, 4, 0)),
];

const fn clef(sign: ClefSign, line: u8, octave_change: i8) -> Clef {
    Clef {
        sign,
        line,
        octave_change,
    }
}

/// How a feel is usually said.
pub(crate) const FEELS: [&str; 4] = ["straight", "swing", "swing auto", "swing 3:2"];
