//! What lessons mean, once read.

use lesson::{
    ComingDown, Connect, Direction, Ending, ExerciseKind, Feel, KeyChoice, KindName, Label, Lesson,
    Move, Named, Once, OwnWords, Paper, ScaleRun, Sequence, Shift, Span, Swing, Tempo, TooWide,
    WordsOver, WordsPlace,
};
use lesson_text::read;
use theory::{KeyOrder, Level, SignatureStyle, SpellingStyle};

fn lesson(text: &str) -> Lesson {
    match read(text, "stem") {
        Ok(reading) => reading.lesson,
        Err(mistakes) => {
            assert_eq!(mistakes, [], "{text}");
            unreachable!("a lesson that isn't read has mistakes");
        }
    }
}

/// The moves of each exercise's figure in short, one line each.
fn check_moves(text: &str, expected: &[&str]) {
    let lesson = lesson(&format!("title = \"A\"\n{text}"));
    let moves: Vec<String> = lesson
        .exercises
        .iter()
        .filter(|exercise| exercise.kind.name() != KindName::Scale)
        .filter_map(|exercise| exercise.kind.figure())
        .map(|figure| {
            lesson.figures[figure]
                .moves
                .iter()
                .map(short)
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect();
    assert_eq!(moves, expected, "{text}");
}

fn short(said: &Move) -> String {
    match said {
        Move::Start { rungs } => format!("s{rungs}"),
        Move::Rungs(rungs) => format!("{rungs:+}"),
        Move::Repeat => "=".to_owned(),
        Move::Octaves(octaves) => format!("o{octaves:+}"),
        Move::Rest => "-".to_owned(),
        Move::FromBelow => "b".to_owned(),
        Move::FromAbove => "a".to_owned(),
        Move::Enclose => "ab".to_owned(),
    }
}

const SEQUENCE: &str = "[[exercise]]\nkind = \"sequence\"\n";

/// A figure on the scale named `scale`.
fn check_figure(scale: &str, figure: &str, expected: &str) {
    check_moves(
        &format!("[scale]\nname = \"{scale}\"\n[figure]\n{figure}\n{SEQUENCE}"),
        &[expected],
    );
}

#[test]
fn the_smallest_lesson() {
    let lesson = lesson(
        "title = \" Plain Ground \"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n",
    );
    assert_eq!(
        (lesson.title.as_str(), lesson.id.as_str()),
        ("Plain Ground", "stem")
    );
    assert_eq!(lesson.players.len(), 1);
    assert_eq!(lesson.players[0].instrument.id, "concert-treble");
    assert_eq!(lesson.players[0].level, Level::Intermediate);
    assert_eq!(
        (lesson.tempo, lesson.feel, lesson.together),
        (None, Feel::Straight, false)
    );
    assert_eq!(
        (lesson.signature, lesson.spelling),
        (SignatureStyle::Fitting, SpellingStyle::Readable)
    );
    assert!(lesson.labels.is_empty());
    assert_eq!(
        lesson.keys.classes(),
        [0, 5, 10, 3, 8, 1, 6, 11, 4, 9, 2, 7]
    );
    assert_eq!(
        (lesson.keys.named, lesson.keys.prefer),
        (Named::Concert, None)
    );
    let kinds: Vec<ExerciseKind> = lesson
        .exercises
        .iter()
        .map(|exercise| exercise.kind.clone())
        .collect();
    assert_eq!(
        kinds,
        [
            ExerciseKind::Scale(ScaleRun {
                meter: Some(0),
                direction: Direction::UpAndDown,
                span: Span::WholeHorn,
                when_too_wide: TooWide::TurnEarly,
            }),
            ExerciseKind::Figure(Once {
                figure: 0,
                direction: Direction::Up,
                coming_down: ComingDown::Flipped,
                when_too_wide: TooWide::TurnEarly,
            }),
            ExerciseKind::Sequence(Sequence {
                figure: 0,
                direction: Direction::UpAndDown,
                coming_down: ComingDown::Flipped,
                span: Span::OneOctave,
                when_too_wide: TooWide::TurnEarly,
                ending: Ending::Root,
            }),
        ]
    );
    assert!(lesson.exercises.iter().all(|exercise| exercise.scale == 0));
    let figure = &lesson.figures[0];
    assert_eq!((figure.meter.upper(), figure.meter.lower()), (4, 4));
    assert_eq!(figure.moves, [Move::Start { rungs: 0 }, Move::Rungs(1)]);
    assert_eq!(figure.moves_said, "start, step up");
    assert_eq!(figure.count.sounding(), 2);
}

#[test]
fn words_choose_values() {
    let lesson = lesson(
        "title = \"A\"\nsubtitle = \"B\"\nclass = \"C\"\nid = \"d-1\"\nlevel = \" Advanced\"\nfeel = \"SWING\"\n\
         tempo = { from = 72, to = 120, by = 8 }\nsignature = \"tonic\"\nspelling = \"strict\"\n\
         labels = [\"Note names\", \"counts\"]\ntogether = true\ninstruments = [\"alto saxophone\", \"B♭ trumpet\"]\n\
         [keys]\norder = \"Whole  steps down\"\nfrom = \"b flat\"\nnamed = \"written\"\nprefer = \"sharps\"\n\
         [scale]\nname = \"Lydian-Dominant\"\nchord = \"7\"\n[figure]\nrungs = \"1 2 3\"\n\
         [[exercise]]\nkind = \"sequence\"\ndirection = \"up\"\ncoming_down = \"as it is\"\nspan = \"two octaves\"\n\
         when_too_wide = \"leave out\"\nending = \"none\"\nlevel = \"beginner\"\nkeys = [\"F\"]\ntempo = 60\nlabels = []\n\
         chord = \"7(#11)\"\n",
    );
    assert_eq!(
        (
            lesson.subtitle.as_deref(),
            lesson.class.as_deref(),
            lesson.id.as_str()
        ),
        (Some("B"), Some("C"), "d-1")
    );
    assert_eq!(
        lesson.tempo,
        Some(Tempo::Ladder {
            from: 72,
            to: 120,
            by: 8
        })
    );
    assert_eq!(lesson.labels, [Label::NoteNames, Label::Counts]);
    assert_eq!(
        (lesson.feel, lesson.together),
        (Feel::Swing(Swing::default()), true)
    );
    assert_eq!(
        lesson
            .players
            .iter()
            .map(|player| player.folder())
            .collect::<Vec<_>>(),
        ["alto-saxophone", "b-flat-trumpet"]
    );
    assert!(
        lesson
            .players
            .iter()
            .all(|player| player.level == Level::Advanced)
    );
    assert_eq!(lesson.keys.classes()[..3], [10, 8, 6]);
    assert_eq!(
        [&lesson.scales[0].chord, &lesson.scales[0].scale.chord]
            .map(|chord| chord.as_ref().map(|chord| chord.suffix())),
        [Some("7"), Some("7")]
    );
    let exercise = &lesson.exercises[0];
    assert_eq!(
        exercise.kind,
        ExerciseKind::Sequence(Sequence {
            figure: 0,
            direction: Direction::Up,
            coming_down: ComingDown::AsItIs,
            span: Span::TwoOctaves,
            when_too_wide: TooWide::LeaveOut,
            ending: Ending::None,
        })
    );
    assert_eq!(
        (exercise.level, exercise.tempo),
        (Some(Level::Beginner), Some(Tempo::At(60)))
    );
    assert_eq!(exercise.labels, Some(Vec::new()));
    assert_eq!(
        exercise.chord.as_ref().map(|chord| chord.suffix()),
        Some("7(#11)")
    );
    let keys = exercise.keys.as_ref().unwrap();
    assert_eq!((keys.classes(), keys.named), (vec![5], Named::Written));
    assert_eq!(lesson.figures[0].moves_said, "rungs 1 2 3");
}

#[test]
fn moves_become_rungs() {
    check_figure(
        "major",
        "moves = \"start, step up, skip down, up 3 steps, repeat\"",
        "s0 +1 -2 +3 =",
    );
    check_figure(
        "major",
        "moves = \"start on 5, octave up, down two steps\"",
        "s4 o+1 -2",
    );
    check_figure(
        "major pentatonic",
        "moves = \"start on 5, step up\"",
        "s3 +1",
    );
    check_figure("major", "moves = \"start on low 5, step up\"", "s-3 +1");
    check_figure(
        "major",
        "moves = \"enclose, start, from below, step up, from above\"",
        "ab s0 b +1 a",
    );
    check_figure(
        "major",
        "moves = \"start, rest, repeat\"\ncount = \"1 (2) 3\"",
        "s0 - =",
    );
    check_figure(
        "major",
        "moves = \"start, step up\"\ncount = \"1 (2) 3\"",
        "s0 +1",
    );
}

#[test]
fn degrees_become_rungs() {
    check_figure("major", "degrees = \"1 2 3 5\"", "s0 +1 +1 +2");
    check_figure("major", "degrees = \"1 8 high 1 low 7\"", "s0 +7 = -8");
    check_figure("dorian", "degrees = \"1 3 b3 rest b7\"", "s0 +2 = - +4");
    check_figure("blues", "degrees = \"1 b5 5\"", "s0 +3 +1");
    check_figure("major pentatonic", "degrees = \"1 5 9\"", "s0 +3 +3");
    check_figure(
        "major pentatonic",
        "rungs = \"1 5 6 7 low 5\"",
        "s0 +4 +1 +1 -7",
    );
    check_figure("major", "rungs = \"3 3 1 rest 8\"", "s2 = -2 - +7");
}

/// One figure in degrees goes other ways on other scales.
#[test]
fn degrees_follow_the_scale() {
    let figure = "[[scale]]\nname = \"major\"\n[[scale]]\nname = \"Major pentatonic\"\n[figure]\nname = \"f\"\ndegrees = \"1 2 3 5\"\n";
    let exercises =
        format!("{SEQUENCE}{SEQUENCE}scale = \"major-pentatonic\"\n{SEQUENCE}scale = \"Major\"\n");
    check_moves(
        &format!("{figure}{exercises}"),
        &["s0 +1 +1 +2", "s0 +1 +1 +1", "s0 +1 +1 +2"],
    );
    let read = lesson(&format!("title = \"A\"\n{figure}{exercises}"));
    assert_eq!(read.figures.len(), 2);
}

/// A scale exercise asks nothing of the figure but its meter.
#[test]
fn a_scale_may_lack_the_figures_degrees() {
    let text = format!(
        "title = \"A\"\n[[scale]]\nname = \"major pentatonic\"\n[[scale]]\nname = \"major\"\n\
         [figure]\ndegrees = \"1 4\"\n[[exercise]]\nkind = \"scale\"\n{SEQUENCE}scale = \"major\"\n"
    );
    let read = lesson(&text);
    assert_eq!(read.figures.len(), 1);
    assert_eq!(read.exercises[0].kind.figure(), Some(0));
}

#[test]
fn exercises_find_their_scale_by_any_name() {
    let read = lesson(
        "title = \"A\"\n[[scale]]\nname = \"dorian\"\n[[scale]]\nname = \"Major\"\n[[scale]]\nname = \"ash\"\n\
         degrees = \"1 b3 4\"\n[[exercise]]\nkind = \"scale\"\nscale = \"Ionian\"\n[[exercise]]\nkind = \"scale\"\n\
         scale = \"ASH\"\n[[exercise]]\nkind = \"scale\"\n",
    );
    let scales: Vec<usize> = read
        .exercises
        .iter()
        .map(|exercise| exercise.scale)
        .collect();
    assert_eq!(scales, [1, 2, 0]);
    assert_eq!(read.scales[2].scale.name, "ash");
    assert!(
        read.exercises
            .iter()
            .all(|exercise| exercise.kind.figure().is_none())
    );
}

#[test]
fn players_take_what_they_do_not_say_from_the_lesson() {
    let read = lesson(
        "title = \"A\"\nlevel = \"beginner\"\n[keys]\nfrom = \"D\"\nnamed = \"written\"\n[scale]\nname = \"major\"\n\
         [figure]\nmoves = \"start\"\n[[player]]\nname = \"Left\"\ninstrument = \"flute\"\nkeys = \"fifths\"\n\
         [[player]]\ninstrument = \"oboe\"\nlevel = \"advanced\"\nlow = \"C4\"\nhigh = \"C6\"\ncopies = 3\n",
    );
    let [left, oboe] = read.players.as_slice() else {
        panic!()
    };
    assert_eq!(
        (left.folder().as_str(), left.level, left.copies),
        ("left", Level::Beginner, 1)
    );
    let keys = left.keys.as_ref().unwrap();
    assert_eq!(
        (keys.classes()[..3].to_vec(), keys.named),
        (vec![2, 9, 4], Named::Written)
    );
    assert_eq!(
        (oboe.folder().as_str(), oboe.level, oboe.copies),
        ("oboe", Level::Advanced, 3)
    );
    assert_eq!(
        oboe.low.map(|pitch| pitch.to_string()).as_deref(),
        Some("C4")
    );
    assert!(oboe.keys.is_none());
}

#[test]
fn shuffled_keys_keep_their_seed() {
    let keys = |text: &str| {
        let text = format!(
            "title = \"A\"\n{text}\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\n"
        );
        lesson(&text).keys.choice
    };
    let seed = |choice: KeyChoice| match choice {
        KeyChoice::Order {
            order: KeyOrder::Shuffled { seed },
            ..
        } => Some(seed),
        _ => None,
    };
    assert_eq!(seed(keys("keys = \"shuffled\"")), Some(1));
    assert_eq!(
        seed(keys("[keys]\norder = \"shuffled\"\nseed = 7")),
        Some(7)
    );
    assert_eq!(seed(keys("[keys]\norder = \"fourths\"")), None);
}

#[test]
fn own_words_are_kept_as_they_were_typed() {
    let lesson = lesson(
        r#"
title = "A"
author = "A. Teacher"
rights = "Copy freely"
footer = "Tuesday reeds"
text = """
Slowly at first,
then faster.

Rest often.
"""
show_moves = false
paper = "letter"

[scale]
name = "dorian"
[figure]
moves = "start, step up, step up"

[[exercise]]
kind = "sequence"
variants = ["as it is", "reversed"]
heading = "Climb"
text = "Listen."
words = { "statement 2" = "breathe", "bar 3" = "listen" }

[[exercise]]
kind = "figure"
heading = ""
"#,
    );
    let own = &lesson.own;
    assert_eq!(own.author.as_deref(), Some("A. Teacher"));
    assert_eq!(own.rights.as_deref(), Some("Copy freely"));
    assert_eq!(own.footer.as_deref(), Some("Tuesday reeds"));
    assert_eq!(own.text, ["Slowly at first, then faster.", "Rest often."]);
    assert!(!own.show_moves);
    assert_eq!(lesson.paper, Some(Paper::Letter));
    let [climb, again, silent] = &lesson.exercises[..] else {
        panic!("{} exercises", lesson.exercises.len());
    };
    assert_eq!(
        (climb.heading.as_deref(), climb.text.len()),
        (Some("Climb"), 1)
    );
    // Of several variants the first carries the words over them all.
    assert_eq!((again.heading.as_deref(), again.text.len()), (None, 0));
    let over = |place, words: &str| WordsOver {
        place,
        words: words.to_owned(),
    };
    let expected = [
        over(WordsPlace::Bar(3), "listen"),
        over(WordsPlace::Statement(2), "breathe"),
    ];
    assert_eq!(
        (&climb.words[..], &again.words[..]),
        (&expected[..], &expected[..])
    );
    assert_eq!(silent.heading.as_deref(), Some(""));
}

#[test]
fn nothing_of_ones_own_if_not_said() {
    let lesson = lesson("title = \"A\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"");
    assert_eq!(lesson.own, OwnWords::default());
    assert!(lesson.own.show_moves);
    assert_eq!(
        (lesson.paper, lesson.exercises[0].only_for.as_ref()),
        (None, None)
    );
    assert!(
        lesson
            .exercises
            .iter()
            .all(|exercise| exercise.chord_symbols)
    );
}

#[test]
fn an_exercise_may_be_for_some() {
    let lesson = lesson(
        r#"
title = "A"
[[player]]
name = "Front desk"
instrument = "alto saxophone"
[[player]]
name = "Window stand"
instrument = "b-flat trumpet"
level = "beginner"
[[player]]
instrument = "flute"
[scale]
name = "dorian"
[figure]
moves = "start, step up, step up"
[[exercise]]
kind = "scale"
for = ["beginner"]
[[exercise]]
kind = "scale"
for = ["Flute", "front desk"]
[[exercise]]
kind = "scale"
for = ["Bb trumpet", "beginner", "intermediate"]
chord_symbols = false
"#,
    );
    let whom: Vec<_> = lesson
        .exercises
        .iter()
        .map(|exercise| exercise.only_for.clone())
        .collect();
    assert_eq!(whom, [Some(vec![1]), Some(vec![0, 2]), Some(vec![0, 1, 2])]);
    assert!(!lesson.exercises[2].chord_symbols);
}

/// Chords with the scale each takes and why.
fn check_scales(bars: &str, choose: &str, expected: &[&str]) {
    let lesson = lesson(&format!(
        "title = \"A\"\n[changes]\nkey = \"C\"\nbars = \"{bars}\"\n[figure]\nmoves = \"start\"\n[choose]\n{choose}\n[[exercise]]\nkind = \"changes\""
    ));
    let Some(over) = lesson.exercises[0].kind.over() else {
        unreachable!("an exercise over changes has them");
    };
    let found: Vec<String> = over
        .chords
        .iter()
        .map(|chord| {
            let scale = chord
                .scale
                .map(|at| lesson.scales[at].scale.name.to_lowercase());
            format!(
                "{} {}: {}",
                chord.symbol,
                scale.unwrap_or_default(),
                chord.rule.words()
            )
        })
        .collect();
    assert_eq!(found, expected, "{bars}: {choose}");
}

#[test]
fn scales_are_chosen_from_the_most_particular() {
    check_scales(
        "| Dm7 | Db7 | Cmaj7 | G7 |",
        "",
        &[
            "Dm7 dorian: usual",
            "Db7 lydian dominant: goes down a half step",
            "Cmaj7 major: usual",
            "G7 mixolydian: usual", // Dm7 comes next, but a fourth lower
        ],
    );
    check_scales(
        "| G7 | Cm7 |",
        "",
        &[
            "G7 phrygian dominant: goes down a fifth to minor",
            "Cm7 dorian: usual",
        ],
    );
    let all = "\"7\" = \"mixolydian\"\n\"7 down a half step\" = \"altered\"\n\"Db7\" = \"whole tone\"\n\"bar 2\" = \"tritone\"";
    let second = |choose: &str, rule: &str| {
        let first = if choose.contains("\"7\"") {
            "C7 mixolydian: said for chords of this kind"
        } else {
            "C7 mixolydian: usual"
        };
        check_scales(
            "| C7 | Db7 | C6 |",
            choose,
            &[first, rule, "C6 major: usual"],
        );
    };
    let without = |lines: usize| {
        let kept = all.lines().count() - lines;
        all.lines().take(kept).collect::<Vec<_>>().join("\n")
    };
    second(&without(0), "Db7 tritone scale: said for this bar");
    second(&without(1), "Db7 whole tone: said for this chord");
    second(
        &without(2),
        "Db7 altered: said for a chord that goes down a half step",
    );
    second(&without(3), "Db7 mixolydian: said for chords of this kind");
    second(&without(4), "Db7 lydian dominant: goes down a half step");
}

#[test]
fn a_chord_by_name_is_any_over_the_same_root() {
    check_scales(
        "| C7/E | C7 | F6 |",
        "\"C7\" = \"altered\"",
        &[
            "C7/E altered: said for this chord",
            "C7 altered: said for this chord",
            "F6 major: usual",
        ],
    );
    check_scales(
        "| C7/E | C7 | F6 |",
        "\"C7/E\" = \"altered\"",
        &[
            "C7/E altered: said for this chord",
            "C7 mixolydian: usual",
            "F6 major: usual",
        ],
    );
}

#[test]
fn a_form_plays_sections_in_order() {
    let check = |form: &str| {
        let lesson = lesson(&format!(
            "title = \"A\"\n[changes]\nkey = \"C\"\nform = {form}\n[[section]]\nname = \"A\"\nbars = \"| C6 | Dm7 |\"\n[[section]]\nname = \"B\"\nbars = \"| F6 |\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"changes\""
        ));
        let over = lesson.exercises[0].kind.over().unwrap();
        let bars: Vec<&str> = over
            .bars
            .iter()
            .map(|bar| bar.section.as_deref().unwrap_or("-"))
            .collect();
        assert_eq!(bars.join(" "), "A - A - B A -", "{form}");
        let chords: Vec<String> = over
            .chords
            .iter()
            .map(|chord| chord.symbol.to_string())
            .collect();
        assert_eq!(chords.join(" "), "C6 Dm7 C6 Dm7 F6 C6 Dm7", "{form}");
    };
    check("[\"A\", \"A\", \"B\", \"A\"]");
    check("\"A A B A\"");
    check("\"a a b a\"");
}

#[test]
fn several_figures_to_choose_from_and_where_they_begin() {
    let lesson = lesson(
        r#"
title = "A"
[changes]
bars = "| Dm7 | G7 |"
[[figure]]
name = "cell"
moves = "start, step up"
[[figure]]
name = "hop"
moves = "start, skip up, step down"
[[exercise]]
kind = "changes"
figures = ["hop", "cell"]
variants = ["as it is", "flipped"]
begins = "1 b7"
"#,
    );
    let over = lesson.exercises[0].kind.over().unwrap();
    let begins: Vec<String> = over.begins.iter().map(ToString::to_string).collect();
    assert_eq!(begins, ["1", "b7"]);
    for (_, figures) in &over.choruses[0].figures {
        let names: Vec<_> = figures
            .iter()
            .map(|at| lesson.figures[*at].name.as_deref().unwrap())
            .collect();
        assert_eq!(names, ["hop", "hop", "cell", "cell"]);
    }
}

#[test]
fn unflipped_goes_with_its_note() {
    let lesson = lesson(
        r#"
title = "A"
[scale]
name = "minor pentatonic"
[figure]
moves = "start, step up, skip up, step down, rest, repeat, step down"
count = "1 & 2 & (3) & 4"
unflipped = "last"
slur = "1-2 6-next"
ghost = "2"
fall = "6"
[[exercise]]
kind = "sequence"
variants = ["as it is", "reversed", "begun on note 3", "flipped", "flipped and reversed"]
"#,
    );
    let figures: Vec<_> = lesson
        .exercises
        .iter()
        .filter_map(|exercise| exercise.kind.figure())
        .map(|at| {
            let figure = &lesson.figures[at];
            let moves: Vec<String> = figure.moves.iter().map(short).collect();
            format!("{} unflipped {:?}", moves.join(" "), figure.unflipped)
        })
        .collect();
    assert_eq!(
        figures,
        [
            "s0 +1 +2 -1 - = -1 unflipped [5]",
            "s1 +1 = +1 -2 -1 unflipped [0]",
            "s3 -1 = -1 -1 +1 unflipped [3]",
            "s0 -1 -2 +1 = -1 unflipped [5]",
            "s-3 +1 = -1 +2 +1 unflipped [0]",
        ]
    );
    let marks = &lesson.figures[0].marks;
    assert_eq!(
        (&marks.slurs[..], marks.slur_to_next),
        (&[(1, 2)][..], Some(6))
    );
    assert_eq!((&marks.ghosts[..], &marks.falls[..]), (&[2][..], &[6][..]));
}

#[test]
fn connections_weigh_where_they_are_said() {
    let check = |said: &str, connect: Connect, shift: Shift, weights: [u8; 3]| {
        let lesson = lesson(&format!(
            "title = \"A\"\n[figure]\nmoves = \"start, step up\"\n[changes]\nbars = \"| C7 | F7 |\"\n[[exercise]]\nkind = \"changes\"\n{said}\n"
        ));
        let over = lesson.exercises[0].kind.over().unwrap();
        assert_eq!((over.connect, over.shift), (connect, shift), "{said}");
        let found = &over.weights;
        let found = [found.phrase, found.high_point, found.connect];
        assert_eq!(found, weights, "{said}");
    };
    check("", Connect::None, Shift::None, [0, 0, 0]);
    check("connect = \"run\"", Connect::Run, Shift::None, [0, 0, 2]);
    check(
        "connect = \"approach\"\nweights = { phrase = 4, high_point = 5, connect = 1 }",
        Connect::Approach,
        Shift::None,
        [4, 5, 1],
    );
    check(
        "shift = \"Over the bar\"",
        Connect::None,
        Shift::OverTheBar,
        [0, 0, 0],
    );
}

#[test]
fn valves_and_positions_are_labels() {
    let lesson = lesson(
        "title = \"A\"\nlabels = [\"valves\", \"Positions\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\n",
    );
    assert_eq!(lesson.labels, [Label::Valves, Label::Positions]);
}
