//! Phrases that move through the keys note for note.

mod render;

use lesson::{KindName, Lesson};
use lesson_text::read;
use render::rendered;
use theory::Mode;

const PHRASE: &str = r#"title = "A"
[figure]
literal = true
degrees = "2 4 6 high 1 7 low 5 b7 3 1"
count = "1 & 2 & | 1 2 3 4 | 1"
chords = "| Dm7 | G7 | Cmaj7 |"
"#;

fn lesson(text: &str) -> Lesson {
    match read(text, "stem") {
        Ok(lesson) => lesson,
        Err(mistakes) => {
            assert_eq!(mistakes, [], "{text}");
            unreachable!("a lesson that isn't read has mistakes");
        }
    }
}

/// Notes as `2 4 6 1+1`, chords as `Dm7@0`, and the key.
fn check(figure: &str, notes: &str, chords: &str, mode: Mode) {
    let lesson = lesson(&format!(
        "title = \"A\"\n[figure]\nliteral = true\n{figure}"
    ));
    let figure = &lesson.figures[0];
    let Some(literal) = &figure.literal else {
        unreachable!("a literal figure has its phrase");
    };
    let note = |note: &lesson::LiteralNote| match note.octaves {
        0 => note.degree.to_string(),
        octaves => format!("{}{octaves:+}", note.degree),
    };
    let found: Vec<String> = literal.notes.iter().map(note).collect();
    assert_eq!(found.join(" "), notes);
    let chord = |chord: &lesson::PlacedChord| format!("{}@{}", chord.symbol, chord.at);
    let found: Vec<String> = literal.chords.iter().map(chord).collect();
    assert_eq!(found.join(" "), chords);
    assert_eq!(literal.mode, mode);
    assert!(figure.moves.is_empty());
    assert_eq!(literal.notes.len(), figure.count.sounding());
}

#[test]
fn a_phrase_is_read_with_its_chords() {
    check(
        "degrees = \"2 4 6 high 1 rest 7 low 5 #4 b5\"\nchords = \"| Dm7 | G7 (4&) Db7 | same |\"\nlength = \"3 bars\"",
        "2 4 6 1+1 7 5-1 #4 b5",
        "Dm7@0 G7@4 Db7@15/2 G7@8 Db7@23/2",
        Mode::Major,
    );
    check(
        "degrees = \"5 1 b3 2\"\ncount = \"4 | 1 2 3\"\nchords = \"| pickup (4) G7 | Cm6 |\"\nkey = \"C minor\"\nlength = \"1 bar\"",
        "5 1 b3 2",
        "G7@-1 Cm6@0",
        Mode::Minor,
    );
    // The same chord again is one that goes on.
    check(
        "degrees = \"1 9 #11 13\"\ncount = \"1 | 1 | 1 | 1\"\nmeter = \"3/4\"\nchords = \"| C6 | C6 | Dm7 G7 | C6 |\"",
        "1 9 #11 13",
        "C6@0 Dm7@6 G7@8 C6@9",
        Mode::Major,
    );
    check("degrees = \"1 b2\"", "1 b2", "", Mode::Major);
}

#[test]
fn a_phrase_needs_no_scale_and_is_played_in_every_key() {
    let plain = lesson(PHRASE);
    let kinds: Vec<KindName> = plain.exercises.iter().map(|one| one.kind.name()).collect();
    assert_eq!(kinds, [KindName::Figure]);
    assert_eq!(plain.scales.len(), 1);
    assert_eq!(plain.scales[0].scale.id.as_deref(), Some("major"));
    assert_eq!(plain.scales[0].chord, None);
    assert_eq!(plain.exercises[0].scale, 0);

    let minor = lesson(&PHRASE.replace("literal = true", "literal = true\nkey = \"C minor\""));
    assert_eq!(minor.scales[0].scale.id.as_deref(), Some("natural-minor"));

    // Beside a scale of the lesson's own, on which other figures go.
    let both = lesson(
        r#"title = "A"
[scale]
name = "dorian"
[[figure]]
name = "cell"
moves = "start, step up"
[[figure]]
name = "lick"
literal = true
degrees = "1 b2 2"
[[exercise]]
kind = "sequence"
[[exercise]]
kind = "keys"
figure = "lick"
[[exercise]]
kind = "scale"
"#,
    );
    let scale = |at: usize| both.scales[both.exercises[at].scale].scale.id.as_deref();
    assert_eq!(
        (scale(0), scale(1), scale(2)),
        (Some("dorian"), Some("major"), Some("dorian"))
    );
}

/// Each row stands in the figure, what follows `/` below it.
#[test]
fn what_a_phrase_is_not() {
    let rows = [
        "flipped = \"start, step up\"",
        "unflipped = \"last\"",
        "moves = \"start, step up\"",
        "rungs = \"1 2\"",
        "key = \"F\"",
        "key = \"D minor\"",
        "key = 3",
        "chords = \"| Dm7 | Hm7 |\"",
        "chords = \"| Dm7 | G7 | Cmaj7 | A7 |\"",
        "chords = \"| Dm7 | in 3/4 G7 |\"",
        "chords = \"\"",
        "literal = \"yes\"",
        "/ [[exercise]]\nkind = \"sequence\"",
        "/ [[exercise]]\nkind = \"trade\"",
        "/ [[exercise]]\nkind = \"write out\"\nline = \"sequence\"",
        "/ [[exercise]]\nkind = \"keys\"\nsay = \"sequence\"",
        "/ [[exercise]]\nkind = \"figure\"\ndirection = \"up and down\"\ncoming_down = \"flipped\"",
        "/ [[exercise]]\nkind = \"figure\"\nvariant = \"flipped\"",
        "/ [[exercise]]\nkind = \"figure\"\nscale = \"dorian\"",
        "/ [[exercise]]\nkind = \"figure\"\nchord = \"7\"",
        "/ [changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"",
    ];
    let told = |row: &&str| {
        let (figure, below) = row.split_once('/').unwrap_or((row, ""));
        let text = if figure.starts_with("chords") || figure.starts_with("literal") {
            let key = figure.split(' ').next().unwrap();
            let lines = PHRASE.lines().filter(|line| !line.starts_with(key));
            format!("{}\n{figure}\n", lines.collect::<Vec<_>>().join("\n"))
        } else {
            format!("{PHRASE}{figure}\n{below}\n")
        };
        format!("{row}\n    {}", rendered(&text).replace('\n', "\n    "))
    };
    let told: Vec<String> = rows.iter().map(told).collect();
    insta::assert_snapshot!(told.join("\n\n"));
}

#[test]
fn chords_belong_to_a_phrase() {
    let text = "title = \"A\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\nchords = \"| C |\"\nkey = \"C\"\n";
    insta::assert_snapshot!(rendered(text));
}

#[test]
fn a_worksheet_may_hide_a_phrases_chords() {
    let text = format!("{PHRASE}[[exercise]]\nkind = \"figure\"\nhide = \"chords\"\n");
    assert!(lesson(&text).exercises[0].asks());
    let without = text.replace("chords = \"|", "accent = \"1\" # \"|");
    assert_eq!(
        rendered(&without).lines().count(),
        1,
        "{}",
        rendered(&without)
    );
}
