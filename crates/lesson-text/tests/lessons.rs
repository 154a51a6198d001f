//! What lessons mean, once read.

use lesson::{
    ComingDown, Direction, Ending, ExerciseKind, Feel, KeyChoice, Label, Lesson, Move, Named, Span,
    Swing, Tempo, TooWide,
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
        .filter(|exercise| exercise.kind != ExerciseKind::Scale)
        .filter_map(|exercise| exercise.figure)
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
        .map(|exercise| exercise.kind)
        .collect();
    assert_eq!(
        kinds,
        [
            ExerciseKind::Scale,
            ExerciseKind::Figure,
            ExerciseKind::Sequence
        ]
    );
    for exercise in &lesson.exercises {
        assert_eq!((exercise.scale, exercise.figure), (0, Some(0)));
        assert_eq!(
            (exercise.direction, exercise.coming_down),
            (
                exercise.kind.usual_direction(exercise.say),
                ComingDown::Flipped
            )
        );
        assert_eq!(
            (exercise.when_too_wide, exercise.ending),
            (TooWide::TurnEarly, Ending::Root)
        );
    }
    let spans: Vec<Span> = lesson
        .exercises
        .iter()
        .map(|exercise| exercise.span)
        .collect();
    assert_eq!(spans, [Span::WholeHorn, Span::OneOctave, Span::OneOctave]);
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
        (exercise.direction, exercise.coming_down),
        (Direction::Up, ComingDown::AsItIs)
    );
    assert_eq!(
        (exercise.span, exercise.when_too_wide, exercise.ending),
        (Span::TwoOctaves, TooWide::LeaveOut, Ending::None)
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
    assert_eq!(read.exercises[0].figure, Some(0));
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
            .all(|exercise| exercise.figure.is_none())
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
