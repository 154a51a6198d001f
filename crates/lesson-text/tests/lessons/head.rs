//! What the head means, keys and players.

use super::*;

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
fn the_head_has_signs_where_lessons_have_letters() {
    let said = |figure: &str| {
        let text = format!(
            "title = \"A\"\n[scale]\nname = \"ash\"\ndegrees = \"1 b3 #4 5 b7\"\n[figure]\n{figure}\n[[exercise]]\nkind = \"figure\"\n"
        );
        lesson(&text).figures[0].moves_said.clone()
    };
    assert_eq!(
        said("degrees = \"1,  b3 rest low B7 #4\""),
        "degrees 1 ♭3 rest low ♭7 ♯4"
    );
    assert_eq!(said("rungs = \"1 high 2\""), "rungs 1 high 2");
    assert_eq!(
        said("moves = \"Start on high b3, step down\""),
        "start on high ♭3, step down"
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

#[test]
fn valves_and_positions_are_labels() {
    let lesson = lesson(
        "title = \"A\"\nlabels = [\"valves\", \"Positions\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\n",
    );
    assert_eq!(lesson.labels, [Label::Valves, Label::Positions]);
}
