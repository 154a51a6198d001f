//! What a lesson says of all its sheets, and a course of all its lessons.

use lesson::{Breath, Dynamic, Feel, Keys, Label, NoteNames, OwnWords, Paper, Tempo, Track};
use theory::{Level, SignatureStyle, SpellingStyle};

use crate::language::words;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::tables::value::page_text;
use crate::tables::walk::Walk;
use crate::typed::exercise::labels;
use crate::typed::feel::feel;
use crate::typed::keys::{KeysText, keys, unsaid};
use crate::typed::own_words::own_words;
use crate::typed::tempo::tempo;
use crate::typed::track::track;

/// What holds where a lesson says nothing: what is usual, or what its course
/// says.
#[derive(Debug, Clone)]
pub(crate) struct Head {
    pub class: Option<String>,
    /// Its `text` is never handed down: each page has its own.
    pub own: OwnWords,
    pub paper: Option<Paper>,
    pub level: Level,
    pub tempo: Option<Tempo>,
    pub feel: Feel,
    pub signature: SignatureStyle,
    pub spelling: SpellingStyle,
    pub labels: Vec<Label>,
    pub keys: Keys,
    pub together: bool,
    pub track: Track,
    pub note_names: NoteNames,
    pub large_print: bool,
    pub dynamic: Option<Dynamic>,
    pub breath: Breath,
    /// Only where an exercise leaves something to be answered.
    pub answers: bool,
    pub care: bool,
    pub chord_symbols: bool,
}

impl Default for Head {
    fn default() -> Head {
        Head {
            class: None,
            own: OwnWords::default(),
            paper: None,
            level: Level::default(),
            tempo: None,
            feel: Feel::default(),
            signature: SignatureStyle::default(),
            spelling: SpellingStyle::default(),
            labels: Vec::new(),
            keys: unsaid(),
            together: false,
            track: Track::default(),
            note_names: NoteNames::default(),
            large_print: false,
            dynamic: None,
            breath: Breath::default(),
            answers: false,
            care: false,
            chord_symbols: true,
        }
    }
}

/// The head as it was typed.
#[derive(Debug)]
pub(crate) struct HeadText {
    pub class: Saying<String>,
    pub own: Option<OwnWords>,
    pub paper: Saying<Paper>,
    pub level: Saying<Level>,
    pub tempo: Saying<Tempo>,
    pub feel: Saying<Feel>,
    pub signature: Saying<SignatureStyle>,
    pub spelling: Saying<SpellingStyle>,
    pub labels: Saying<Vec<Label>>,
    pub keys: Saying<KeysText>,
    pub together: Saying<bool>,
    pub track: Saying<Track>,
    pub note_names: Saying<NoteNames>,
    pub large_print: Saying<bool>,
    pub dynamic: Saying<Dynamic>,
    pub breath: Saying<Breath>,
    pub answers: Saying<bool>,
    pub care: Saying<bool>,
    pub chord_symbols: Saying<bool>,
}

impl HeadText {
    /// Reads the head of a lesson or a course; `rest` is what holds where it
    /// says nothing.
    pub(crate) fn read(walk: &Walk<'_>, rest: &Head, report: &mut Report<'_>) -> HeadText {
        HeadText {
            class: page(walk, "class", report),
            own: own_words(walk, &rest.own, report),
            paper: walk.word("paper", words::PAPERS, report),
            level: walk.word("level", words::LEVELS, report),
            tempo: tempo(walk, report),
            feel: walk
                .text("feel", report)
                .and_then(|text| feel(&text, report)),
            signature: walk.word("signature", words::SIGNATURES, report),
            spelling: walk.word("spelling", words::SPELLINGS, report),
            labels: labels(walk, report),
            keys: keys(walk, report),
            together: walk.switch("together", report),
            track: track(walk, &rest.track, report),
            note_names: walk.word("note_names", words::NOTE_NAMES, report),
            large_print: walk.switch("large_print", report),
            dynamic: walk.word("dynamic", words::DYNAMICS, report),
            breath: walk.word("breath", words::BREATHS, report),
            answers: walk.switch("answers", report),
            care: walk.switch("care", report),
            chord_symbols: walk.switch("chord_symbols", report),
        }
    }

    /// The keys meant; `None` where unclear.
    pub(crate) fn keys(&self, rest: &Head) -> Option<Keys> {
        self.keys_among(&rest.keys)
    }

    /// What is meant; `None` where any of it is unclear.
    pub(crate) fn head(&self, rest: &Head) -> Option<Head> {
        let (head, clear) = self.as_far_as_clear(rest);
        clear.then_some(head)
    }

    /// What is meant, or what holds anyway where that is unclear; and whether
    /// all of it is clear.
    pub(crate) fn as_far_as_clear(&self, rest: &Head) -> (Head, bool) {
        let rest = rest.clone();
        let mut all = Clear(true);
        let head = Head {
            class: all.or(self.class.maybe().ok(), None).or(rest.class),
            own: all.or(self.own.clone(), rest.own),
            paper: all.or(self.paper.maybe().ok(), None).or(rest.paper),
            level: all.or(self.level.or(rest.level), rest.level),
            tempo: all.or(self.tempo.maybe().ok(), None).or(rest.tempo),
            feel: all.or(self.feel.or(rest.feel), rest.feel),
            signature: all.or(self.signature.or(rest.signature), rest.signature),
            spelling: all.or(self.spelling.or(rest.spelling), rest.spelling),
            labels: all.or(self.labels.or(rest.labels.clone()), rest.labels),
            keys: all.or(self.keys_among(&rest.keys), rest.keys),
            together: all.or(self.together.or(rest.together), rest.together),
            track: all.or(self.track.or(rest.track.clone()), rest.track),
            note_names: all.or(self.note_names.or(rest.note_names), rest.note_names),
            large_print: all.or(self.large_print.or(rest.large_print), rest.large_print),
            dynamic: all.or(self.dynamic.maybe().ok(), None).or(rest.dynamic),
            breath: all.or(self.breath.or(rest.breath), rest.breath),
            answers: all.or(self.answers.or(rest.answers), rest.answers),
            care: all.or(self.care.or(rest.care), rest.care),
            chord_symbols: all.or(
                self.chord_symbols.or(rest.chord_symbols),
                rest.chord_symbols,
            ),
        };
        (head, all.0)
    }

    fn keys_among(&self, rest: &Keys) -> Option<Keys> {
        match &self.keys {
            Saying::Unsaid => Some(rest.clone()),
            said => said.said().map(|said| said.value.keys(rest)),
        }
    }
}

/// Whether everything was clear so far.
struct Clear(bool);

impl Clear {
    fn or<T>(&mut self, found: Option<T>, otherwise: T) -> T {
        self.0 &= found.is_some();
        found.unwrap_or(otherwise)
    }
}

/// A line of a page, as `title`.
pub(crate) fn page(walk: &Walk<'_>, key: &str, report: &mut Report<'_>) -> Saying<String> {
    walk.text(key, report)
        .and_then(|text| page_text(key, &text, report))
}
