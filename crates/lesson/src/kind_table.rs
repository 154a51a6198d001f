//! The kinds of exercise: for each its word, what `list` and its heading say of
//! it, what of a figure it plays, what is usual, and the words of a lesson that
//! say nothing in it.

use crate::{Direction, Span};

/// What the table says of a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KindRow {
    /// The lesson's word.
    pub word: &'static str,
    /// What it is, in a sentence for `list`.
    pub about: &'static str,
    /// What its heading always says; empty where that is all in what it plays.
    pub heading: &'static str,
    /// Whether its heading begins with its scale's name.
    pub names_scale: bool,
    /// What it plays of a figure.
    pub figure: FigureUse,
    /// Whether it goes over the lesson's changes.
    pub over_changes: bool,
    /// Whether it has statements that words can stand over.
    pub statements: bool,
    /// Whether the student may write it out.
    pub written_out: bool,
    /// How far it goes if its exercise doesn't say.
    pub span: Span,
    /// The words of an exercise that say nothing in it, by what they are about.
    idle: &'static [&'static [&'static str]],
}

/// What an exercise plays of the lesson's figure in each key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FigureUse {
    /// At most its meter.
    Meter,
    /// The figure once.
    Once,
    /// The figure on each degree in turn.
    OnEachDegree,
    /// Once or on each degree, as `say` has it.
    AsSaid,
    /// The figure on each chord.
    OnEachChord,
}

/// Which of the two is said in each key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SayName {
    /// The figure once.
    #[default]
    Figure,
    /// The figure on each degree in turn.
    Sequence,
}

const FIGURES: &[&str] = &["figures"];
const SAY: &[&str] = &["say"];
const STUDY: &[&str] = &["of", "pattern"];
const TRADE: &[&str] = &["written", "slashes"];
const VARIANTS: &[&str] = &["variant", "variants"];
const SCALE: &[&str] = &["scale", "chord"];
/// How a line on one scale goes over the horn.
const COURSE: &[&str] = &[
    "direction",
    "coming_down",
    "span",
    "when_too_wide",
    "ending",
];
/// What only a line of statements over changes says.
const STATEMENTS: &[&str] = &["begins", "connect", "shift"];
const OVER: &[&str] = &[
    "begins",
    "choruses",
    "plan",
    "anticipate",
    "connect",
    "shift",
    "weights",
    "in_a_row",
    "seed",
];
/// What says nothing of a figure that is said once.
const ONCE: &[&str] = &["span", "ending"];

/// Makes of one table the names of the kinds, their list and their rows, so
/// that none is forgotten in one of them.
macro_rules! kinds {
    ($($(#[doc = $doc:literal])+ $name:ident = $row:expr;)+) => {
        /// Which kind an exercise is, without what it says.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum KindName {
            $($(#[doc = $doc])+ $name,)+
        }

        impl KindName {
            /// All kinds, as they are listed.
            pub const ALL: &'static [KindName] = &[$(KindName::$name),+];

            /// What the table says of it.
            pub const fn row(self) -> &'static KindRow {
                match self {
                    $(KindName::$name => { const ROW: KindRow = $row; &ROW })+
                }
            }
        }
    };
}

kinds! {
    /// The scale over the horn.
    Scale = KindRow {
        word: "scale",
        about: "the scale over the whole horn, or one or two octaves, and home again",
        heading: "",
        names_scale: true,
        figure: FigureUse::Meter,
        over_changes: false,
        statements: false,
        written_out: true,
        span: Span::WholeHorn,
        idle: &[FIGURES, SAY, STUDY, &["coming_down", "ending"], VARIANTS, TRADE, OVER],
    };
    /// The figure once.
    Figure = KindRow {
        word: "figure",
        about: "the figure once from the root, and coming down from the root above",
        heading: "",
        names_scale: false,
        figure: FigureUse::Once,
        over_changes: false,
        statements: true,
        written_out: true,
        span: Span::OneOctave,
        idle: &[FIGURES, SAY, STUDY, TRADE, OVER],
    };
    /// The figure on each degree in turn.
    Sequence = KindRow {
        word: "sequence",
        about: "the figure begun on each scale degree in turn, up, down, or up and down",
        heading: "",
        names_scale: false,
        figure: FigureUse::OnEachDegree,
        over_changes: false,
        statements: true,
        written_out: true,
        span: Span::OneOctave,
        idle: &[FIGURES, SAY, STUDY, TRADE, OVER],
    };
    /// The figure or its sequence moved through the keys on one sheet.
    Keys = KindRow {
        word: "keys",
        about: "the figure, or its sequence, moved through the keys on one sheet",
        heading: "",
        names_scale: false,
        figure: FigureUse::AsSaid,
        over_changes: false,
        statements: true,
        written_out: true,
        span: Span::OneOctave,
        idle: &[FIGURES, STUDY, TRADE, OVER],
    };
    /// The scale in one interval after another.
    Intervals = KindRow {
        word: "intervals",
        about: "the scale in thirds, fourths … octaves, straight or broken, up, down, or up and down",
        heading: "",
        names_scale: true,
        figure: FigureUse::Meter,
        over_changes: false,
        statements: true,
        written_out: true,
        span: Span::OneOctave,
        idle: &[FIGURES, SAY, TRADE, OVER],
    };
    /// The scale in runs of so many notes.
    Runs = KindRow {
        word: "runs",
        about: "the scale in runs of three, four or five notes, straight or broken",
        heading: "runs of ",
        names_scale: true,
        figure: FigureUse::Meter,
        over_changes: false,
        statements: true,
        written_out: true,
        span: Span::OneOctave,
        idle: &[FIGURES, SAY, TRADE, OVER],
    };
    /// The sequence, with bars between to improvise an answer in.
    Trade = KindRow {
        word: "trade",
        about: "the sequence with bars of slashes between, to improvise an answer in",
        heading: "to answer in",
        names_scale: false,
        figure: FigureUse::OnEachDegree,
        over_changes: false,
        statements: true,
        written_out: false,
        span: Span::OneOctave,
        idle: &[FIGURES, SAY, STUDY, OVER],
    };
    /// The figure carried through changes.
    Changes = KindRow {
        word: "changes",
        about: "the figure and its variants carried through the lesson's changes by the smoothest joins",
        heading: "over the changes",
        names_scale: false,
        figure: FigureUse::OnEachChord,
        over_changes: true,
        statements: true,
        written_out: false,
        span: Span::OneOctave,
        idle: &[SAY, STUDY, SCALE, COURSE, TRADE],
    };
    /// Thirds and sevenths through changes.
    GuideTones = KindRow {
        word: "guide tones",
        about: "a third or a seventh on each chord of the changes, led as closely as can be",
        heading: "Guide tones over the changes",
        names_scale: false,
        figure: FigureUse::Meter,
        over_changes: true,
        statements: false,
        written_out: false,
        span: Span::OneOctave,
        idle: &[FIGURES, SAY, STUDY, &["figure"], SCALE, COURSE, VARIANTS, TRADE, STATEMENTS],
    };
    /// Thirds and sevenths through changes, each led up to.
    Targets = KindRow {
        word: "targets",
        about: "a third or a seventh on each chord of the changes, led up to from beside it",
        heading: "Guide tones over the changes, led up to",
        names_scale: false,
        figure: FigureUse::Meter,
        over_changes: true,
        statements: false,
        written_out: false,
        span: Span::OneOctave,
        idle: &[FIGURES, SAY, STUDY, &["figure"], SCALE, COURSE, VARIANTS, TRADE, STATEMENTS],
    };
}

impl KindName {
    /// The lesson's word.
    pub const fn word(self) -> &'static str {
        self.row().word
    }

    /// Whether it says the lesson's figure; others take at most its meter.
    pub const fn says_figure(self) -> bool {
        match self.row().figure {
            FigureUse::Meter => false,
            FigureUse::Once
            | FigureUse::OnEachDegree
            | FigureUse::AsSaid
            | FigureUse::OnEachChord => true,
        }
    }

    /// Whether the figure is said once instead of on each degree.
    pub const fn says_once(self, say: SayName) -> bool {
        match self.row().figure {
            FigureUse::Once => true,
            FigureUse::AsSaid => matches!(say, SayName::Figure),
            FigureUse::Meter | FigureUse::OnEachDegree | FigureUse::OnEachChord => false,
        }
    }

    /// Which way it goes if its exercise doesn't say: a figure once, up.
    pub const fn usual_direction(self, say: SayName) -> Direction {
        if self.says_once(say) {
            Direction::Up
        } else {
            Direction::UpAndDown
        }
    }

    /// The words of an exercise that say nothing in it.
    pub fn idle_words(self, say: SayName) -> impl Iterator<Item = &'static str> {
        let once = if self.says_once(say) { ONCE } else { &[] };
        self.row()
            .idle
            .iter()
            .copied()
            .flatten()
            .chain(once)
            .copied()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// Every kind has a word and a sentence of its own, and no word is idle in
    /// it twice.
    #[test]
    fn the_table_is_whole() {
        let all = || KindName::ALL.iter().map(|kind| kind.row());
        let words: BTreeSet<&str> = all().map(|row| row.word).collect();
        let sentences: BTreeSet<&str> = all().map(|row| row.about).collect();
        assert_eq!(words.len(), KindName::ALL.len());
        assert_eq!(sentences.len(), KindName::ALL.len());
        assert!(!words.contains("") && !sentences.contains(""));
        for kind in KindName::ALL {
            for say in [SayName::Figure, SayName::Sequence] {
                let idle: Vec<&str> = kind.idle_words(say).collect();
                let each: BTreeSet<&str> = idle.iter().copied().collect();
                assert_eq!(each.len(), idle.len(), "{}", kind.word());
            }
        }
    }

    /// What goes over changes says nothing of the way over one scale, and the
    /// other way round.
    #[test]
    fn each_kind_is_on_one_ground() {
        for kind in KindName::ALL {
            let idle: Vec<&str> = kind.idle_words(SayName::Sequence).collect();
            let over = kind.row().over_changes;
            let none = |words: &[&str]| words.iter().all(|word| idle.contains(word));
            let all = |words: &[&str]| words.iter().all(|word| !idle.contains(word));
            assert!(
                if over { none(COURSE) } else { none(OVER) },
                "{}",
                kind.word()
            );
            assert!(all(if over {
                &["choruses", "plan"]
            } else {
                &["direction"]
            }));
        }
    }
}
