//! Courses: what is read of them, and every mistake in them and their lessons.

mod render;

use lesson::{Course, KeyChoice, Label};
use lesson_text::{LessonFile, Mistake, course_lessons, is_course, read_course};
use render::lines;
use theory::Level;

const LESSON: &str =
    "title = \"T\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up\"\n";

/// Lessons by name; what isn't among them isn't there.
fn files(text: &str, lessons: &[(&str, &str)]) -> Vec<LessonFile> {
    let file = |named: lesson_text::NamedLesson| {
        let known = lessons.iter().find(|(name, _)| *name == named.file);
        let text = known.map(|(_, text)| (*text).to_owned());
        LessonFile {
            text: text.ok_or_else(|| {
                let message = format!("{}: is not there", named.file);
                Mistake::new(named.span, message, "look at its name")
            }),
            file: named.file,
            lead: None,
        }
    };
    course_lessons(text).into_iter().map(file).collect()
}

fn course(text: &str, lessons: &[(&str, &str)]) -> Course {
    match read_course(text, "term", &files(text, lessons)) {
        Ok(course) => course,
        Err(fault) => unreachable!("{text}\n{fault:?}"),
    }
}

/// The mistakes of a course, then those of its lessons, a line each.
fn told(text: &str, lessons: &[(&str, &str)]) -> String {
    let Err(fault) = read_course(text, "term", &files(text, lessons)) else {
        return "fine".to_owned();
    };
    let mut told = lines(text, &fault.course);
    for lesson in &fault.lessons {
        let known = lessons.iter().find(|(name, _)| *name == lesson.file);
        let text = known.map_or("", |(_, text)| text);
        let of = lines(text, &lesson.mistakes);
        told.extend(of.into_iter().map(|line| format!("{} {line}", lesson.file)));
    }
    told.join("\n")
}

#[test]
fn a_course_is_known_by_its_words() {
    for (text, expected) in [
        ("course = \"A\"", true),
        ("course = ", true),
        ("lessons = [\"a.toml\"]", true),
        ("[[week]]\nlessons = [\"a.toml\"]", true),
        (LESSON, false),
        ("", false),
        ("title = \"A\"\nlessons = [\"a.toml\"]", false),
    ] {
        assert_eq!(is_course(text), expected, "{text}");
    }
}

#[test]
fn lessons_are_named_once_in_order() {
    let text = "course = \"A\"\n[[week]]\nlessons = [\"b.toml\", \"a.toml\"]\n[[week]]\nlessons = [\"./a.toml\", \"c.toml\"]";
    let named: Vec<String> = course_lessons(text)
        .into_iter()
        .map(|one| one.file)
        .collect();
    assert_eq!(named, ["b.toml", "a.toml", "c.toml"]);
}

#[test]
fn a_lesson_has_from_its_course_what_it_does_not_say() {
    let text = r#"
course = "Term"
subtitle = "Four weeks"
class = "Reeds"
author = "Somebody"
footer = "Term"
text = "Foreword."
paper = "letter"
level = "beginner"
tempo = 80
labels = ["degrees"]
chord_symbols = false
answers = true
lessons = ["plain.toml", "own.toml"]
[keys]
order = "fifths"
from = "G"
[track]
times = 3
count_in = 2
"#;
    let own = format!(
        "author = \"Me\"\nlevel = \"advanced\"\ntempo = 100\nlabels = []\ntext = \"Mine.\"\nid = \"mine\"\nchord_symbols = true\n{LESSON}[keys]\nfrom = \"F\"\n[track]\ntimes = 1\n[[exercise]]\nkind = \"write out\"\n"
    );
    let course = course(text, &[("plain.toml", LESSON), ("own.toml", &own)]);
    assert_eq!((&*course.id, &*course.title), ("term", "Term"));
    assert_eq!(course.subtitle.as_deref(), Some("Four weeks"));
    assert_eq!(course.own.text, ["Foreword."]);
    assert_eq!((course.players.len(), course.weeks.len()), (1, 0));
    let [plain, own] = &course.lessons[..] else {
        unreachable!("two lessons");
    };
    assert_eq!((&*plain.id, &*own.id), ("plain", "mine"));
    assert_eq!(plain.class.as_deref(), Some("Reeds"));
    let authors = (plain.own.author.as_deref(), own.own.author.as_deref());
    assert_eq!(authors, (Some("Somebody"), Some("Me")));
    assert_eq!(own.own.footer.as_deref(), Some("Term"));
    assert_eq!(
        (plain.own.text.len(), &own.own.text[..]),
        (0, &["Mine.".to_owned()][..])
    );
    assert_eq!(plain.paper, course.paper);
    assert_eq!(plain.players[0].level, Level::Beginner);
    assert_eq!(own.players[0].level, Level::Advanced);
    let tempo = |lesson: &lesson::Lesson| lesson.tempo.unwrap().slowest();
    assert_eq!((tempo(plain), tempo(own)), (80, 100));
    assert_eq!(
        (&plain.labels[..], &own.labels[..]),
        (&[Label::Degrees][..], &[][..])
    );
    let from = |lesson: &lesson::Lesson| match &lesson.keys.choice {
        KeyChoice::Order { order, from } => format!("{} {from}", order.words()),
        KeyChoice::Only(_) => String::new(),
    };
    assert_eq!((&*from(plain), &*from(own)), ("fifths G", "fifths F"));
    let track = |lesson: &lesson::Lesson| (lesson.track.times, lesson.track.count_in);
    assert_eq!((track(plain), track(own)), ((3, 2), (1, 2)));
    // Only where something is left to be answered.
    assert_eq!((plain.answers, own.answers), (false, true));
    let symbols = |lesson: &lesson::Lesson| lesson.exercises[0].chord_symbols;
    assert_eq!((symbols(plain), symbols(own)), (false, true));
}

#[test]
fn a_courses_players_play_every_lesson() {
    let text = r#"
course = "Term"
lessons = ["a.toml"]
[[player]]
name = "Window stand"
instrument = "alto saxophone"
copies = 2
[[player]]
name = "Back row"
instrument = "trombone"
level = "beginner"
"#;
    // Its own player, who isn't in the course, is no mistake.
    let lesson = format!(
        "level = \"advanced\"\n{LESSON}[[player]]\nname = \"Front desk\"\ninstrument = \"flute\"\n[[exercise]]\nkind = \"sequence\"\nfor = [\"Front desk\"]\n[[exercise]]\nkind = \"figure\"\nfor = [\"beginner\", \"Window stand\"]\n"
    );
    let course = course(text, &[("a.toml", &lesson)]);
    let lesson = &course.lessons[0];
    let folders: Vec<String> = lesson.players.iter().map(lesson::Player::folder).collect();
    assert_eq!(folders, ["window-stand", "back-row"]);
    let levels: Vec<Level> = lesson.players.iter().map(|player| player.level).collect();
    assert_eq!(levels, [Level::Advanced, Level::Beginner]);
    let copies: Vec<u16> = course.players.iter().map(|player| player.copies).collect();
    assert_eq!(copies, [2, 1]);
    let only: Vec<_> = lesson
        .exercises
        .iter()
        .map(|one| one.only_for.clone())
        .collect();
    assert_eq!(only, [Some(vec![]), Some(vec![0, 1])]);
}

#[test]
fn without_players_of_its_own_everyone_gets_a_book() {
    let one = format!("instruments = [\"flute\", \"trombone\"]\n{LESSON}");
    let two = format!("instruments = [\"trombone\", \"tuba\"]\n{LESSON}");
    let text = "course = \"Term\"\nid = \"four-weeks\"\nlessons = [\"a.toml\", \"b.toml\"]";
    let course = course(text, &[("a.toml", &one), ("b.toml", &two)]);
    let folders: Vec<String> = course.players.iter().map(lesson::Player::folder).collect();
    assert_eq!(folders, ["flute", "trombone", "tuba"]);
    assert_eq!(course.id, "four-weeks");
}

#[test]
fn weeks_come_back() {
    let text = r#"
course = "Term"
[[week]]
title = "First"
text = """
One.

Two."""
lessons = ["a.toml", "b.toml"]
[[week]]
lessons = ["c.toml"]
keys = ["F", "Bb"]
[[week]]
lessons = ["b.toml"]
again = 2
keys = ["Eb"]
[[week]]
again = 2
"#;
    let lessons = [("a.toml", LESSON), ("b.toml", LESSON), ("c.toml", LESSON)];
    let course = course(text, &lessons);
    let weeks: Vec<(&[usize], &[usize])> = course
        .weeks
        .iter()
        .map(|week| (&week.lessons[..], &week.again[..]))
        .collect();
    assert_eq!(
        weeks,
        [
            (&[0, 1][..], &[][..]),
            (&[2], &[]),
            (&[1], &[0]),
            (&[], &[2])
        ]
    );
    assert_eq!(course.weeks[0].title.as_deref(), Some("First"));
    assert_eq!(course.weeks[0].text, ["One.", "Two."]);
    let keys = course.weeks[1].keys.as_ref().unwrap();
    let keys: Vec<String> = keys.iter().map(ToString::to_string).collect();
    assert_eq!(keys, ["F", "Bb"]);
    assert_eq!(course.weeks[2].all().collect::<Vec<_>>(), [1, 0]);
}

/// Each row is a course after its title, over lessons that are there.
#[test]
fn mistakes_in_the_course() {
    let only = LESSON.replace("[scale]", "keys = [\"C\", \"F\"]\n[scale]");
    let named = format!("{LESSON}[[player]]\nname = \"Lessons\"\ninstrument = \"flute\"\n");
    let same = format!("id = \"A\"\n{LESSON}");
    let broken = LESSON.replace("dorian", "dorain");
    let lessons = [
        ("a.toml", LESSON),
        ("only.toml", &only),
        ("sub/a.toml", LESSON),
        ("same.toml", &same),
        ("named.toml", &named),
        ("broken.toml", &broken),
        ("course.toml", "course = \"B\"\nlessons = [\"a.toml\"]"),
    ];
    let rows = [
        "",
        "lessons = []",
        "lessons = \"a.toml\"",
        "lessons = [\"a.toml\", \"\", 3]",
        "lessons = [\"a.toml\", \"./a.toml\"]",
        "lessons = [\"a.toml\", \"sub/a.toml\", \"same.toml\"]",
        "lessons = [\"a.toml\", \"gone.toml\"]",
        "lessons = [\"course.toml\"]",
        "lessons = [\"named.toml\"]",
        "lessons = [\"a.toml\"]\n[[week]]\nlessons = [\"a.toml\"]",
        "[[week]]\ntitle = \"First\"",
        "[week]\nlessons = [\"a.toml\"]\n[week]\nlessons = [\"a.toml\"]",
        "[[week]]\nlessons = [\"a.toml\"]\nagain = 1",
        "[[week]]\nlessons = [\"a.toml\"]\n[[week]]\nagain = 2\n[[week]]\nagain = 5\n[[week]]\nagain = 0",
        "[[week]]\nlessons = [\"a.toml\"]\n[[week]]\nagain = 1\n[[week]]\nagain = 1",
        "[[week]]\nlessons = [\"only.toml\", \"a.toml\"]\nkeys = [\"Db\", \"Eb\"]",
        "[[week]]\nlessons = [\"only.toml\"]\nkeys = [\"C\", \"Eb\"]",
        "[[week]]\nlessons = [\"only.toml\"]\nkeys = \"fourths\"",
        "[[week]]\nlessons = [\"only.toml\"]\nkeys = [\"H\", \"C\", \"B#\"]",
        "[[week]]\nlessons = [\"a.toml\"]\nlesson = \"b.toml\"",
        "title = \"A\"\nlessons = [\"a.toml\"]",
        "lessons = [\"a.toml\"]\n[figure]\nmoves = \"start\"",
        "lessons = [\"a.toml\"]\nlevel = \"expert\"\ntempo = 3",
        "lessons = [\"a.toml\"]\n[[player]]\nname = \"lessons\"\ninstrument = \"flute\"",
        "lessons = [\"a.toml\"]\n[[player]]\nname = \"Ash\"\ninstrument = \"flute\"\n[[player]]\nname = \"ash\"\ninstrument = \"oboe\"",
        "lessons = [\"a.toml\"]\n[[player]]\nname = \"Ash\"\ninstrument = \"flute\"\nlow = \"C1\"",
        "lessons = [\"a.toml\"]\n[[player]]\nname = \"Ash\"\ninstrument = \"kazooo\"",
        // Told with its own file, beside what is wrong in the course.
        "lessons = [\"gone.toml\", \"broken.toml\"]\nlevel = \"expert\"",
    ];
    let told: Vec<String> = rows
        .iter()
        .map(|row| {
            let told = told(&format!("course = \"Term\"\n{row}\n"), &lessons);
            format!("{row}\n    {}", told.replace('\n', "\n    "))
        })
        .collect();
    insta::assert_snapshot!(told.join("\n\n"));
}

#[test]
fn a_course_without_a_title() {
    insta::assert_snapshot!(told("lessons = [\"a.toml\"]", &[("a.toml", LESSON)]));
}

#[test]
fn a_lesson_that_says_a_courses_words() {
    let text = format!("lessons = [\"a.toml\"]\n{LESSON}[[week]]\nlessons = []\n");
    insta::assert_snapshot!(render::rendered(&text));
}

#[test]
fn what_is_wrong_with_a_lead_sheet_is_told_in_its_lesson() {
    let text = "course = \"Term\"\nlessons = [\"a.toml\"]";
    let mistake = Mistake {
        span: 0..5,
        message: "tune.musicxml isn't there".to_owned(),
        help: "look at its name".to_owned(),
    };
    let mut files = files(text, &[("a.toml", LESSON)]);
    files[0].lead = Some(Err(mistake.clone()));
    let fault = read_course(text, "term", &files).unwrap_err();
    assert_eq!(fault.course, []);
    assert_eq!(fault.lessons[0].mistakes, [mistake]);
}

#[test]
fn the_references_course_is_read() {
    let readme = include_str!("../README.md");
    let (_, after) = readme.split_once("```toml course\n").unwrap();
    let (text, _) = after.split_once("```").unwrap();
    let lessons = course_lessons(text);
    let files: Vec<LessonFile> = lessons
        .into_iter()
        .map(|named| LessonFile {
            text: Ok(
                std::fs::read_to_string(format!("../../fixtures/lessons/{}", named.file)).unwrap(),
            ),
            file: named.file,
            lead: None,
        })
        .collect();
    let course = read_course(text, "term", &files).unwrap();
    assert_eq!((course.lessons.len(), course.weeks.len()), (4, 3));
}

#[test]
fn the_shipped_courses_are_read() {
    let folder = std::path::Path::new("../../fixtures/courses");
    for name in ["lamplight-term"] {
        let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap();
        let files: Vec<LessonFile> = course_lessons(&text)
            .into_iter()
            .map(|named| LessonFile {
                text: Ok(std::fs::read_to_string(folder.join(&named.file)).unwrap()),
                file: named.file,
                lead: None,
            })
            .collect();
        let course = read_course(&text, name, &files).unwrap();
        assert_eq!((course.lessons.len(), course.weeks.len()), (6, 4));
        assert_eq!(course.players.len(), 3);
        for lesson in &course.lessons {
            assert_eq!(lesson.players.len(), 3, "{}", lesson.id);
        }
    }
}
