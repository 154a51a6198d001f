//! The keys a lesson file knows, table by table, as the design lists them.

/// One kind of table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Known {
    /// What it is called in a message.
    pub name: &'static str,
    /// Its keys.
    pub keys: &'static [&'static str],
}

pub(crate) const LESSON: Known = Known {
    name: "a lesson",
    keys: &[
        "title",
        "subtitle",
        "class",
        "author",
        "rights",
        "footer",
        "text",
        "show_moves",
        "paper",
        "id",
        "instruments",
        "level",
        "tempo",
        "feel",
        "signature",
        "spelling",
        "labels",
        "together",
        "note_names",
        "large_print",
        "dynamic",
        "breath",
        "answers",
        "care",
        "chord_symbols",
        "keys",
        "scale",
        "figure",
        "exercise",
        "player",
        "changes",
        "section",
        "choose",
        "track",
        "instrument",
    ],
};

pub(crate) const COURSE: Known = Known {
    name: "a course",
    keys: &[
        "course",
        "subtitle",
        "class",
        "author",
        "rights",
        "footer",
        "text",
        "show_moves",
        "paper",
        "id",
        "instruments",
        "level",
        "tempo",
        "feel",
        "signature",
        "spelling",
        "labels",
        "together",
        "note_names",
        "large_print",
        "dynamic",
        "breath",
        "answers",
        "care",
        "chord_symbols",
        "lessons",
        "keys",
        "week",
        "player",
        "track",
        "instrument",
    ],
};

pub(crate) const WEEK: Known = Known {
    name: "[[week]]",
    keys: &["title", "text", "lessons", "keys", "again"],
};

pub(crate) const INSTRUMENT: Known = Known {
    name: "[[instrument]]",
    keys: &[
        "name",
        "clef",
        "sounds",
        "like",
        "range",
        "beginner",
        "intermediate",
        "advanced",
    ],
};

pub(crate) const CHANGES: Known = Known {
    name: "[changes]",
    keys: &["key", "meter", "bars", "form", "lead_sheet", "part"],
};

pub(crate) const SECTION: Known = Known {
    name: "[[section]]",
    keys: &["name", "bars", "times"],
};

pub(crate) const WEIGHTS: Known = Known {
    name: "weights",
    keys: &[
        "smooth",
        "variety",
        "range",
        "strong_beats",
        "phrase",
        "high_point",
        "connect",
    ],
};

pub(crate) const KEYS: Known = Known {
    name: "[keys]",
    keys: &[
        "order", "from", "named", "only", "seed", "prefer", "draw", "heard",
    ],
};

pub(crate) const TEMPO: Known = Known {
    name: "a tempo",
    keys: &["from", "to", "by"],
};

pub(crate) const SCALE: Known = Known {
    name: "[scale]",
    keys: &["name", "degrees", "chord"],
};

pub(crate) const FIGURE: Known = Known {
    name: "[figure]",
    keys: &[
        "name",
        "meter",
        "moves",
        "degrees",
        "rungs",
        "literal",
        "chords",
        "key",
        "count",
        "numbers",
        "length",
        "flipped",
        "unflipped",
        "slur",
        "accent",
        "staccato",
        "tenuto",
        "ghost",
        "fall",
        "scoop",
        "doit",
    ],
};

pub(crate) const EXERCISE: Known = Known {
    name: "[[exercise]]",
    keys: &[
        "kind",
        "say",
        "of",
        "pattern",
        "figure",
        "figures",
        "scale",
        "chord",
        "chord_symbols",
        "direction",
        "coming_down",
        "span",
        "when_too_wide",
        "ending",
        "variant",
        "variants",
        "for",
        "heading",
        "text",
        "words",
        "level",
        "keys",
        "tempo",
        "labels",
        "dynamic",
        "breath",
        "written",
        "slashes",
        "line",
        "given",
        "hide",
        "begins",
        "choruses",
        "plan",
        "anticipate",
        "connect",
        "shift",
        "weights",
        "in_a_row",
        "seed",
    ],
};

pub(crate) const PLAYER: Known = Known {
    name: "[[player]]",
    keys: &[
        "name",
        "instrument",
        "level",
        "low",
        "high",
        "keys",
        "copies",
    ],
};

pub(crate) const TRACK: Known = Known {
    name: "[track]",
    keys: &[
        "count_in", "times", "forms", "tuning", "style", "click", "levels",
    ],
};

pub(crate) const LEVELS: Known = Known {
    name: "levels",
    keys: &["line", "chords", "bass", "drums", "click"],
};

const ALL: [Known; 15] = [
    LESSON, COURSE, WEEK, KEYS, TEMPO, SCALE, FIGURE, EXERCISE, PLAYER, TRACK, LEVELS, INSTRUMENT,
    CHANGES, SECTION, WEIGHTS,
];

/// Whether any table knows a key.
pub(crate) fn is_known(key: &str) -> bool {
    ALL.iter().any(|table| table.keys.contains(&key))
}

/// Tables of which a lesson or a course may have several.
pub(crate) const SEVERAL: [&str; 7] = [
    "scale",
    "figure",
    "exercise",
    "player",
    "instrument",
    "section",
    "week",
];
