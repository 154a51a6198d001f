//! Values, keys and blocks.

use super::*;

const LESSON: &str = "\
# for Tuesday
title = \"Old\"     # loud
tempo = 96

# how it goes
[scale]
name = \"dorian\"  # dark

# first
[[exercise]]
kind = \"scale\"

[[exercise]]
kind = \"sequence\"
keys = { order = \"fifths\" }
";

#[test]
fn a_value_changes_and_comments_keep_their_column() {
    check(
        LESSON,
        set("title", text("New one")),
        &LESSON.replace("\"Old\"     # loud", "\"New one\" # loud"),
    );
    check(
        LESSON,
        set("scale name", text("a \"b\" \\c")),
        &LESSON.replace("\"dorian\"  #", "\"a \\\"b\\\" \\\\c\" #"),
    );
    check(LESSON, set("tempo", Value::Number(96)), LESSON);
    check(
        LESSON,
        set(
            "tempo",
            Value::Table(vec![
                ("from".to_owned(), Value::Number(60)),
                ("to".to_owned(), Value::Number(90)),
            ]),
        ),
        &LESSON.replace("tempo = 96", "tempo = { from = 60, to = 90 }"),
    );
}

#[test]
fn a_key_takes_its_usual_place() {
    check(
        LESSON,
        set("subtitle", text("s")),
        &LESSON.replace("# loud\n", "# loud\nsubtitle = \"s\"\n"),
    );
    check(
        LESSON,
        set("labels", texts(&["degrees"])),
        &LESSON.replace("= 96\n", "= 96\nlabels = [\"degrees\"]\n"),
    );
    check(
        LESSON,
        set("exercise 0 span", text("two octaves")),
        &LESSON.replace("\"scale\"\n", "\"scale\"\nspan = \"two octaves\"\n"),
    );
    check("", set("title", text("t")), "title = \"t\"\n");
    check("# a\n", set("title", text("t")), "# a\n\ntitle = \"t\"\n");
    check(
        "[scale]\nname = \"dorian\"",
        set("title", text("t")),
        "title = \"t\"\n\n[scale]\nname = \"dorian\"",
    );
}

#[test]
fn a_missing_table_is_written() {
    check(
        LESSON,
        set("keys order", text("fifths")),
        &LESSON.replace(
            "# how it goes",
            "[keys]\norder = \"fifths\"\n\n# how it goes",
        ),
    );
    check(
        LESSON,
        set("figure 0 moves", text("start")),
        &LESSON.replace("# first", "[figure]\nmoves = \"start\"\n\n# first"),
    );
    check(
        LESSON,
        set("exercise 0 keys order", text("fifths")),
        &LESSON.replace("\"scale\"\n", "\"scale\"\nkeys = { order = \"fifths\" }\n"),
    );
    check(
        LESSON,
        set("exercise 1 keys from", text("D")),
        &LESSON.replace("\"fifths\" }", "\"fifths\", from = \"D\" }"),
    );
    check(
        "title = \"t\"",
        set("track times", Value::Number(2)),
        "title = \"t\"\n\n[track]\ntimes = 2\n",
    );
}

#[test]
fn dotted_keys_stay_dotted() {
    check(
        "title = \"t\"\nkeys.order = \"fifths\"\n",
        set("keys from", text("D")),
        "title = \"t\"\nkeys.order = \"fifths\"\nkeys.from = \"D\"\n",
    );
}

#[test]
fn a_line_goes_and_its_comment_stays() {
    check(LESSON, unset("tempo"), &LESSON.replace("tempo = 96\n", ""));
    check(
        LESSON,
        unset("scale name"),
        &LESSON.replace("name = \"dorian\"  # dark", "# dark"),
    );
    check(LESSON, unset("class"), LESSON);
    check(
        LESSON,
        unset("exercise 1 keys order"),
        &LESSON.replace("{ order = \"fifths\" }", "{  }"),
    );
}

#[test]
fn lists_keep_the_lines_of_what_stays() {
    let long = "i = [\n    \"a\", # one\n    \"b\",\n    \"c\", # three\n]\n";
    let check = |values: &[&str], expected: &str| {
        check(long, set("i", texts(values)), expected);
    };
    check(
        &["a", "b", "x", "c"],
        &long.replace("\"b\",\n", "\"b\",\n    \"x\",\n"),
    );
    check(
        &["a", "b", "c", "d"],
        &long.replace("\"c\",", "\"c\",\n    \"d\","),
    );
    check(&["a", "c"], &long.replace("\"b\",\n    ", ""));
    check(
        &["a", "b"],
        "i = [\n    \"a\", # one\n    \"b\", # three\n]\n",
    );
    check(&["a", "x", "c"], &long.replace("\"b\"", "\"x\""));
    check(&[], "i = []\n");
}

#[test]
fn blocks_come_go_and_change_places() {
    let kind = |kind: &str| vec![("kind".to_owned(), text(kind))];
    let add = |index, of: &str| Edit::Add {
        table: "exercise".to_owned(),
        index,
        says: kind(of),
    };
    check(
        LESSON,
        add(1, "figure"),
        &LESSON.replace(
            "\"scale\"\n",
            "\"scale\"\n\n[[exercise]]\nkind = \"figure\"\n",
        ),
    );
    check(
        LESSON,
        add(2, "figure"),
        &format!("{LESSON}\n[[exercise]]\nkind = \"figure\"\n"),
    );
    check(
        LESSON,
        add(0, "figure"),
        &LESSON.replace("# first", "[[exercise]]\nkind = \"figure\"\n\n# first"),
    );
    check(
        "[exercise]\nkind = \"scale\"\n",
        add(1, "figure"),
        "[[exercise]]\nkind = \"scale\"\n\n[[exercise]]\nkind = \"figure\"\n",
    );
    let remove = |index| Edit::Remove {
        table: "exercise".to_owned(),
        index,
    };
    check(
        LESSON,
        remove(0),
        &LESSON.replace("# first\n[[exercise]]\nkind = \"scale\"\n\n", ""),
    );
    check(
        LESSON,
        remove(1),
        &LESSON.replace(
            "[[exercise]]\nkind = \"sequence\"\nkeys = { order = \"fifths\" }\n",
            "",
        ),
    );
    let moved = edit(
        LESSON,
        &Edit::Move {
            table: "exercise".to_owned(),
            from: 0,
            to: 1,
        },
    );
    let (head, _) = LESSON.split_once("# first").unwrap();
    assert_eq!(
        moved.unwrap(),
        format!(
            "{head}[[exercise]]\nkind = \"sequence\"\nkeys = {{ order = \"fifths\" }}\n\n\
             # first\n[[exercise]]\nkind = \"scale\"\n"
        )
    );
}

#[test]
fn what_is_broken_elsewhere_stays_as_it_is() {
    let broken = LESSON.replace("tempo = 96", "tempo = = 96");
    check(
        &broken,
        set("scale name", text("lydian")),
        &broken.replace("\"dorian\"", "\"lydian\""),
    );
    assert!(edit(&broken, &set("tempo", Value::Number(80))).is_err());
}

#[test]
fn every_kind_takes_words_and_none_that_say_nothing_of_it() {
    let of = |kind: &str| -> Vec<&str> {
        let kinds = kinds();
        let (_, _, words) = kinds.iter().find(|(word, ..)| *word == kind).unwrap();
        words.iter().map(|word| word.key).collect()
    };
    assert!(of("sequence").contains(&"coming_down"));
    assert!(!of("scale").contains(&"coming_down"));
    assert!(of("intervals").contains(&"of"));
    assert!(!of("guide tones").contains(&"figure"));
    assert!(of("changes").contains(&"plan"));
    assert!(of("keys").contains(&"span"));
    assert!(of("write out").contains(&"line"));
}
