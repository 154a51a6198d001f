//! The words a lesson file and a course file know, table by table, as the
//! design lists them: what each takes, and what it says.

use theory::KeyOrder;

use crate::language::choice::names;
use crate::language::known::Takes::{
    Any, Entries, Lines, List, Number, Own, Switch, Table, Tables, Text, Usual, Word as OneOf,
    WordsOver,
};
use crate::language::known::{Known, Need, Takes, Word};
use crate::language::study;
use crate::language::variant_words;
use crate::language::words;
use crate::limit;

/// Tables of keys, each with what it takes and says.
macro_rules! tables {
    ($($table:ident $name:literal needs $needs:expr; {
        $($key:literal: $takes:expr, $about:literal;)*
    })*) => {$(
        pub(crate) const $table: Known = Known {
            name: $name,
            keys: &[$($key),*],
            words: &[$(Word { key: $key, takes: $takes, about: $about }),*],
            needs: &$needs,
        };
    )*};
}

const LABELS: Takes = List(&OneOf(|| names(words::LABELS)));
const LEVEL: Takes = OneOf(|| names(words::LEVELS));
const DYNAMIC: Takes = OneOf(|| names(words::DYNAMICS));
const BREATH: Takes = OneOf(|| names(words::BREATHS));
const TEMPO_SAID: Takes = Any(&[BEATS, Table(&TEMPO)]);
const BEATS: Takes = Number(*limit::TEMPO.start(), *limit::TEMPO.end());
const BARS: Takes = Any(&[
    Number(*limit::BARS.start(), *limit::BARS.end()),
    Usual(|| texts(&["1 bar", "2 bars"])),
]);
const WEIGHT: Takes = Number(*limit::WEIGHT.start(), *limit::WEIGHT.end());
const LOUD: Takes = Number(*limit::LOUDNESS.start(), *limit::LOUDNESS.end());
const SEED: Takes = Number(0, limit::SEED);
const SOME_KEYS: Takes = List(&KEY_NAME);
const KEYS_SAID: Takes = Any(&[Table(&KEYS), SOME_KEYS, ORDER]);
const KEY_NAME: Takes = Usual(|| {
    texts(&[
        "C", "F", "Bb", "Eb", "Ab", "Db", "Gb", "B", "E", "A", "D", "G",
    ])
});
const ORDER: Takes = Usual(|| KeyOrder::all().iter().map(KeyOrder::words).collect());
const METER: Takes = Usual(|| {
    texts(&[
        "4/4", "3/4", "2/4", "2/2", "6/8", "9/8", "12/8", "5/4", "7/8",
    ])
});
const VARIANT: Takes = Usual(variant_words::usual);

fn texts(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

tables! {
    LESSON "a lesson" needs [Need::Some(&["title"]), Need::NotBoth(&["instruments", "player"])]; {
        "title": Text, "printed at the head of each sheet";
        "subtitle": Text, "printed under the title";
        "class": Text, "the class it is for";
        "author": Text, "who made it";
        "rights": Text, "whose it is";
        "footer": Text, "what stands at the foot of each page";
        "text": Lines, "paragraphs under the title, parted by empty lines";
        "show_moves": Switch, "false leaves the figure's moves out of the head";
        "paper": OneOf(|| names(words::PAPERS)), "what the sheets are printed on";
        "id": Text, "the name of the lesson's folder; the file's name if not said";
        "instruments": List(&Takes::Instrument), "who plays, by names, ids or aliases";
        "level": LEVEL, "the range that is used, and how notes are beamed";
        "tempo": TEMPO_SAID, "beats a minute, or a ladder of tempos";
        "feel": Usual(|| texts(&words::FEELS)), "straight or swing, and how unevenly tracks play it";
        "signature": OneOf(|| names(words::SIGNATURES)), "how signatures are chosen";
        "spelling": OneOf(|| names(words::SPELLINGS)), "how notes are spelled";
        "labels": LABELS, "rows under the notes, four at most";
        "together": Switch, "true makes all players turn, jump and end at the same place";
        "note_names": OneOf(|| names(words::NOTE_NAMES)), "what notes and keys are called";
        "large_print": Switch, "true: larger staves, fewer bars to a line";
        "dynamic": DYNAMIC, "how loud";
        "breath": BREATH, "what stands where a player must breathe";
        "answers": Switch, "true writes the completed sheet beside each that leaves something to be written";
        "care": Switch, "true prints a line of caution for those who practise";
        "chord_symbols": Switch, "false leaves the chord symbols out";
        "keys": KEYS_SAID, "the keys and their order";
        "scale": Tables(&SCALE), "the scale, or several with a name each";
        "figure": Tables(&FIGURE), "the figure, or several with a name each";
        "exercise": Tables(&EXERCISE), "what is on the sheets, in order";
        "player": Tables(&PLAYER), "who plays, in place of instruments";
        "changes": Table(&CHANGES), "a chord progression";
        "section": Tables(&SECTION), "sections that changes are put together of";
        "choose": Entries, "which scale a chord takes: \"7 to minor\" = \"altered\"";
        "track": Table(&TRACK), "what practice tracks play";
        "instrument": Tables(&INSTRUMENT), "a horn that the list of instruments lacks";
    }
    COURSE "a course" needs [
        Need::Some(&["course"]),
        Need::Exactly(&["lessons", "week"]),
        Need::NotBoth(&["instruments", "player"])
    ]; {
        "course": Text, "its title, on the cover of every book";
        "subtitle": Text, "printed under the title";
        "class": Text, "the class it is for";
        "author": Text, "who made it";
        "rights": Text, "whose it is";
        "footer": Text, "what stands at the foot of each page";
        "text": Lines, "the foreword of its books, in paragraphs";
        "show_moves": Switch, "false leaves the figures' moves out of the heads";
        "paper": OneOf(|| names(words::PAPERS)), "what books and sheets are printed on";
        "id": Text, "the name of the course's folder; the file's name if not said";
        "instruments": List(&Takes::Instrument), "who plays every lesson";
        "level": LEVEL, "the level of players who say none";
        "tempo": TEMPO_SAID, "beats a minute, or a ladder, of lessons that say none";
        "feel": Usual(|| texts(&words::FEELS)), "straight or swing, where a lesson says none";
        "signature": OneOf(|| names(words::SIGNATURES)), "how signatures are chosen";
        "spelling": OneOf(|| names(words::SPELLINGS)), "how notes are spelled";
        "labels": LABELS, "rows under the notes of lessons that say none";
        "together": Switch, "true makes all players turn, jump and end at the same place";
        "note_names": OneOf(|| names(words::NOTE_NAMES)), "what notes and keys are called";
        "large_print": Switch, "true: larger staves, fewer bars to a line";
        "dynamic": DYNAMIC, "how loud";
        "breath": BREATH, "what stands where a player must breathe";
        "answers": Switch, "true: answers where a lesson leaves something to be written";
        "care": Switch, "true prints a line of caution for those who practise";
        "chord_symbols": Switch, "false leaves the chord symbols out";
        "lessons": LESSON_FILES, "its lesson files, from the course's own file";
        "keys": KEYS_SAID, "the keys of lessons that say none";
        "week": Tables(&WEEK), "its weeks, in place of lessons";
        "player": Tables(&PLAYER), "who plays every lesson";
        "track": Table(&TRACK), "what practice tracks play";
        "instrument": Tables(&INSTRUMENT), "a horn that the list of instruments lacks";
    }
    WEEK "[[week]]" needs [Need::Some(&["lessons", "again"])]; {
        "title": Text, "beside the week's number";
        "text": Lines, "paragraphs at the head of the week's packet";
        "lessons": LESSON_FILES, "this week's lesson files";
        "keys": SOME_KEYS, "which of the lessons' keys are played this week";
        "again": Number(1, limit::WEEKS as i64), "the lessons of so many weeks ago come back";
    }
    INSTRUMENT "[[instrument]]" needs [Need::Some(&["name"])]; {
        "name": Text, "what the players call it";
        "clef": OneOf(|| names(words::CLEFS)), "its clef";
        "sounds": Usual(|| texts(&["Bb3", "Eb3", "C4"])), "what a written C4 sounds";
        "like": Takes::Instrument, "the instrument it sounds like";
        "range": RANGE, "its written range";
        "beginner": RANGE, "its written range for beginners";
        "intermediate": RANGE, "its written range at the intermediate level";
        "advanced": RANGE, "its written range for advanced players";
    }
    CHANGES "[changes]" needs [Need::NotBoth(&["bars", "form", "lead_sheet"])]; {
        "key": Usual(|| texts(&["C", "C minor"])), "the key they are in; if not said, the first chord's root";
        "meter": METER, "4/4 if not said";
        "bars": Lines, "| Dm7 | G7 | Cmaj7 | same |";
        "form": Any(&[List(&Text), Text]), "the names of the sections, in the order they are played";
        "lead_sheet": Text, "a MusicXML file to take them from";
        "part": Any(&[Text, Number(*limit::PARTS.start(), *limit::PARTS.end())]), "the part of it";
    }
    SECTION "[[section]]" needs [Need::Some(&["bars"])]; {
        "name": Text, "printed in a box where it begins";
        "bars": Lines, "| Dm7 | G7 | Cmaj7 | same |";
        "times": Number(*limit::SECTION_TIMES.start(), *limit::SECTION_TIMES.end()), "how often it is played";
    }
    WEIGHTS "weights" needs []; {
        "smooth": WEIGHT, "small steps where statements join";
        "variety": WEIGHT, "another variant, another starting degree";
        "range": WEIGHT, "keeping to the middle of the horn";
        "strong_beats": WEIGHT, "chord tones on strong beats";
        "phrase": WEIGHT, "a statement, its answer, something denser, an end that rests";
        "high_point": WEIGHT, "one highest note, past the middle";
        "connect": WEIGHT, "how much a gap counts that stays open";
    }
    KEYS "[keys]" needs []; {
        "order": ORDER, "fourths if not said";
        "from": KEY_NAME, "the key it begins with";
        "named": OneOf(|| names(words::NAMED)), "whether key names are concert or written";
        "only": SOME_KEYS, "exactly these keys, in this order";
        "seed": SEED, "which shuffle";
        "prefer": OneOf(|| names(words::PREFERENCES)), "which way a tie between names goes";
        "draw": Number(1, 12), "how many keys are drawn, for a jury";
        "heard": SOME_KEYS, "keys that are not drawn again";
    }
    TEMPO "a tempo" needs [Need::Some(&["from"]), Need::Some(&["to"]), Need::Some(&["by"])]; {
        "from": BEATS, "the slowest";
        "to": BEATS, "the fastest";
        "by": Number(1, *limit::TEMPO.end()), "the step between";
    }
    SCALE "[scale]" needs [Need::Some(&["name", "degrees"])]; {
        "name": Takes::Scale, "one of the catalogue, or a name of your own beside degrees";
        "degrees": Usual(|| texts(&["1 2 b3 4 5 6 b7"])), "its degrees against the major scale";
        "chord": Takes::Chord, "another chord symbol than its own";
    }
    FIGURE "[figure]" needs [
        Need::Exactly(&["moves", "degrees", "rungs"]),
        Need::NotBoth(&["flipped", "unflipped"])
    ]; {
        "name": Text, "what exercises call it";
        "meter": METER, "4/4 if not said";
        "moves": Usual(|| texts(&["start, step up, step up, step down"])), "where the line goes, move by move";
        "degrees": Usual(|| texts(&["1 2 3 5"])), "its notes as degrees of the scale";
        "rungs": Usual(|| texts(&["1 2 3 4"])), "its notes as places in the scale";
        "literal": Switch, "true: degrees are any of the twelve and move through the keys note for note";
        "chords": Usual(|| texts(&["| Dm7 | G7 | Cmaj7 |"])), "the chords over a literal phrase, in C";
        "key": Usual(|| texts(&["C", "C minor"])), "the key a literal phrase is written in";
        "count": Usual(|| texts(&["1 & 2 & 3 & 4 &", "1 & 2 & (3) & 4"])), "its rhythm, as it is counted aloud";
        "numbers": Usual(|| texts(&["quarters", "eighths", "sixteenths", "thirty-seconds"])), "what the numbers of the count are";
        "length": Usual(|| texts(&["1 bar", "2 bars", "3 beats"])), "its length, where it isn't the end of its last bar";
        "flipped": Text, "your own wording of the figure upside down";
        "unflipped": Usual(|| texts(&["last", "5-6"])), "notes whose moves keep their direction in the plain flip";
        "slur": Usual(|| texts(&["1-2", "6-next"])), "slurs by the numbers of notes";
        "accent": NOTES, "accented notes, by number";
        "staccato": NOTES, "short notes, by number";
        "tenuto": NOTES, "notes held their full length, by number";
        "ghost": NOTES, "notes hardly sounded, by number";
        "fall": NOTES, "notes that fall away, by number";
        "scoop": NOTES, "notes scooped into from below, by number";
        "doit": NOTES, "notes that slide up at their end, by number";
    }
    EXERCISE "[[exercise]]" needs [
        Need::Some(&["kind"]),
        Need::NotBoth(&["figure", "figures"]),
        Need::NotBoth(&["variant", "variants"])
    ]; {
        "kind": OneOf(|| names(words::KINDS)), "what it is made of";
        "say": OneOf(|| names(words::SAYINGS)), "what is said in each key";
        "of": OneOf(study::all), "what a study is of";
        "pattern": OneOf(|| names(words::PATTERNS)), "whether every second one is turned backwards";
        "figure": Own("figure"), "the figure it plays, by its name in the lesson";
        "figures": List(&Own("figure")), "several figures to choose from";
        "scale": Own("scale"), "the scale it is on, by its name in the lesson";
        "chord": Takes::Chord, "a chord of its own over it";
        "chord_symbols": Switch, "whether chord symbols stand over it";
        "direction": OneOf(|| names(words::DIRECTIONS)), "which way it goes";
        "coming_down": OneOf(|| names(words::COMING_DOWN)), "what the figure becomes coming down";
        "span": OneOf(|| names(words::SPANS)), "how far it goes";
        "when_too_wide": OneOf(|| names(words::TOO_WIDE)), "what happens where it doesn't fit the horn";
        "ending": OneOf(|| names(words::ENDINGS)), "how it closes";
        "variant": VARIANT, "what becomes of the figure";
        "variants": Any(&[List(&VARIANT), VARIANT]), "several variants, each an exercise of its own";
        "for": List(&Usual(|| names(words::LEVELS))), "levels, players or instruments it is for";
        "heading": Text, "your own heading; empty for none";
        "text": Lines, "paragraphs under its heading";
        "words": WordsOver, "words over bars and statements: \"bar 3\" = \"listen\"";
        "level": LEVEL, "a level of its own";
        "keys": KEYS_SAID, "keys of its own";
        "tempo": TEMPO_SAID, "a tempo of its own";
        "labels": LABELS, "rows of its own under the notes";
        "dynamic": DYNAMIC, "a dynamic of its own";
        "breath": BREATH, "what stands where a player must breathe";
        "written": BARS, "bars that are written before each answer";
        "slashes": BARS, "bars of slashes to answer in";
        "line": OneOf(|| names(words::LINES)), "what the student writes out";
        "given": BARS, "bars that are given";
        "hide": OneOf(|| names(words::HIDES)), "what is left for the student to fill in";
        "begins": Usual(|| texts(&["1", "1 5"])), "degrees among which each statement begins";
        "choruses": List(&OneOf(|| names(words::CHORUSES))), "its choruses, in order";
        "plan": Usual(|| texts(&["every bar", "2 bars play, 1 bar rest"])), "when is played and when not";
        "anticipate": Switch, "true takes each chord on a bar line an eighth early";
        "connect": OneOf(|| names(words::CONNECTS)), "what may lead from one statement to the next";
        "shift": OneOf(|| names(words::SHIFTS)), "whether statements may begin beside their time";
        "weights": Table(&WEIGHTS), "what the line is chosen by, each from 0 to 5";
        "in_a_row": Number(1, 16), "how often in a row a variant may stand";
        "seed": SEED, "which of equally good lines";
    }
    PLAYER "[[player]]" needs [Need::Some(&["instrument"])]; {
        "name": Text, "the player's name, and the folder's";
        "instrument": Takes::Instrument, "what is played";
        "level": LEVEL, "how far the player has come";
        "low": NOTE, "a lowest written note of the player's own";
        "high": NOTE, "a highest written note of the player's own";
        "keys": KEYS_SAID, "keys of the player's own";
        "copies": Number(1, limit::COPIES), "how many copies are wanted";
    }
    TRACK "[track]" needs []; {
        "count_in": Number(*limit::COUNT_IN.start(), *limit::COUNT_IN.end()), "bars of click before the first note";
        "times": Number(*limit::TIMES.start(), *limit::TIMES.end()), "how often the sheet is played";
        "forms": List(&OneOf(|| names(words::TRACK_FORMS))), "further tracks";
        "tuning": Number(*limit::TUNING.start(), *limit::TUNING.end()), "the A above middle C in hertz";
        "style": OneOf(|| names(words::TRACK_STYLES)), "how the band plays";
        "click": OneOf(|| names(words::TRACK_CLICKS)), "which beats are clicked";
        "levels": Table(&LEVELS), "how loud each is, in hundredths";
    }
    LEVELS "levels" needs []; {
        "line": LOUD, "the line";
        "chords": LOUD, "the chords";
        "bass": LOUD, "the bass";
        "drums": LOUD, "the drums";
        "click": LOUD, "the click";
    }
}

const LESSON_FILES: Takes = List(&Text);
const RANGE: Takes = Usual(|| texts(&["B3 to A5"]));
const NOTES: Takes = Usual(|| texts(&["1", "1 5"]));
const NOTE: Takes = Usual(|| texts(&["C4", "Bb3", "F#5"]));

pub(crate) const ALL: [Known; 15] = [
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
