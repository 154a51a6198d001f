//! Broken lines: what is said of each, and that nothing else is.

mod render;

use render::rendered;

const REST: &str = "\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up, step up\"\n";

/// Each slip stands at the top of a lesson that is otherwise fine.
#[test]
fn slips_of_the_pen() {
    let slips = [
        "title = \"A\"\nlevel = intermediate",
        "title = Lantern Stairs",
        "title = “Lantern Stairs”",
        "title = \"Lantern Stairs”",
        "title = ‘Lantern Stairs’",
        "title = \"Lantern Stairs",
        "title = 'Lantern Stairs",
        "title = Lantern Stairs\"",
        "title = \"Lantern\" Stairs\"",
        "title = 'It's late'",
        "title = \"The \"late\" one\"",
        "title \"Lantern Stairs\"",
        "title: \"Lantern Stairs\"",
        "title",
        "title =",
        "title = # later",
        "title == \"A\"",
        "= \"A\"",
        "title = \"A\" level = \"beginner\"",
        "title = \"A\",",
        "title = \"A\";",
        "title = \"A\" (working title)",
        "title = \"A\"\nkeys\nfrom = \"C\"",
        "title = \"A\"\ntitle = \"B\"",
        "title = \"A\\qB\"",
        "title = \"\"\"A\nsubtitle = \"B\"",
        "title = \"A\"\ntext = \"\"\nOne.\n\nTwo.\"\"\"\nlevel = \"beginner\"",
        "title = \"A\"\ntext = \"\"\"\nOne.\n\nTwo.\"\"\nlevel = \"beginner\"",
        "title = \"A\"\ntempo = 96 bpm",
        "title = \"A\"\ntempo = 096",
        "title = \"A\"\ntempo = { from = 72 to = 120 }",
        "title = \"A\"\ntempo = { from = 72, to = 120, by = 8",
        "title = \"A\"\ntempo = { from = 72, from = 80, to = 120, by = 8 }",
        "title = \"A\"\ntogether = yes",
        "title = \"A\"\ntogether = True",
        "title = \"A\"\ninstruments = [\"flute\", \"oboe\"",
        "title = \"A\"\ninstruments = [\n  \"flute\"\n  \"oboe\",\n]",
        "title = \"A\"\ninstruments = [\n  \"flute,\n  \"oboe\",\n]",
        "title = \"A\"\ninstruments = [flute, oboe]",
        "title = \"A\"\ninstruments = [“flute”, “oboe”]",
        "title = \"A\"\ninstruments = [\"flute\",, \"oboe\"]",
        "title = \"A\"\ninstruments = [\"flute\", \"oboe\"]]",
        "title = \"A\"\ninstruments = \"flute\", \"oboe\"",
        "title = \"A\"\ninstruments = flute, oboe",
        "title = \"A\"\ncoming down = \"flipped\"",
        "title = \"A\"\nwhat is this",
        "title = \"A\"\n\u{1}level = \"beginner\"",
        "title = \"A\" # a\u{7}",
        "title = \"A\u{1}B\"",
        "title =\u{a0}\"A\"",
        "title = \"A\"\rlevel = \"beginner\"",
        "titel = \"Lantern Stairs",
    ];
    let told: Vec<String> = slips
        .iter()
        .map(|slip| format!("{slip}\n    {}", indented(&format!("{slip}{REST}"))))
        .collect();
    insta::assert_snapshot!(told.join("\n\n"));
}

/// Headings, each in a whole lesson.
#[test]
fn headings() {
    let lessons = [
        "title = \"A\"\n[scale\nname = \"dorian\"\n[figure]\nmoves = \"start\"",
        "title = \"A\"\nscale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"",
        "title = \"A\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"\n[[exercise]\nkind = \"scale\"",
        "title = \"A\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"\n[exercise]]\nkind = \"scale\"",
        "title = \"A\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"\n[exercise]\nkind = \"scale\"\n[exercise]\nkind = \"figure\"",
        "title = \"A\"\n[scale]\nname = \"dorian\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"",
        "title = \"A\"\nscale = \"dorian\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"",
        "title = \"A\"\n[keys]\nfrom = \"C\"\n[scale]\nname = \"dorian\"\n[keys]\nonly = [\"D\"]\n[figure]\nmoves = \"start\"",
        "title = \"A\"\n[scale] name = \"dorian\"\n[figure]\nmoves = \"start\"",
        "title = \"A\"\n[scale]\nname = \"dorian\"\nfigure:\nmoves = \"start\"\nexercise\nkind = \"scale\"",
        "title = \"A\"\n[my scale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"",
    ];
    let told: Vec<String> = lessons
        .iter()
        .map(|text| format!("{text}\n    {}", indented(text)))
        .collect();
    insta::assert_snapshot!(told.join("\n\n"));
}

/// What stands beside a broken line and is wrong in itself is told too; what
/// only echoes it is not.
#[test]
fn broken_lines_and_others() {
    let text = "title = \"No End\nlevel = \"expert\"\n[scale]\nname = dorian\n[figure]\nmoves = \"start, up 3\"\n[[exercise]]\nkind = \"scale\"\nscale = \"dorian\"\n";
    insta::assert_snapshot!(rendered(text));
}

/// A file whose lines all break says so once for each and stops in time.
#[test]
fn hopeless_files_are_told_in_time() {
    for letter in [
        "=", "[", "\"", "{", "\\", "'", "\n=", "a=[\n", "\"\"\"", "[[", "a.", "\r", "#\u{1}\n",
        "“", "a=1\n",
    ] {
        let text = letter.repeat(100_000 / letter.len());
        assert_ne!(rendered(&text), "fine", "{letter:?}");
    }
}

/// Line ends of any system and a byte order mark are fine.
#[test]
fn plain_differences_between_systems() {
    let text = format!("title = \"A\"\n{REST}");
    assert_eq!(rendered(&text), "fine");
    assert_eq!(rendered(&text.replace('\n', "\r\n")), "fine");
    assert_eq!(rendered(&format!("\u{feff}{text}")), "fine");
    assert_eq!(rendered(&text.replace(" = ", "\t=\t")), "fine");
}

fn indented(text: &str) -> String {
    rendered(text).replace('\n', "\n    ")
}
