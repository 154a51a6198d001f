use rhythm::Fraction;

use super::*;

fn at(way: &str) -> Vec<Step> {
    way.split(' ')
        .map(|step| match step.parse::<usize>() {
            Ok(place) => Step::Item(place),
            Err(_) => Step::from(step),
        })
        .collect()
}

fn text(value: &str) -> Value {
    Value::Text(value.to_owned())
}

fn texts(values: &[&str]) -> Value {
    Value::List(values.iter().map(|value| text(value)).collect())
}

#[track_caller]
fn check(before: &str, change: Edit, expected: &str) {
    let after = edit(before, &change).unwrap();
    assert_eq!(after, expected, "{change:?}");
}

fn set(way: &str, value: Value) -> Edit {
    Edit::Set { at: at(way), value }
}

fn unset(way: &str) -> Edit {
    Edit::Unset { at: at(way) }
}

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
    let add = |place, of: &str| Edit::Add {
        table: "exercise".to_owned(),
        place,
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
    let remove = |place| Edit::Remove {
        table: "exercise".to_owned(),
        place,
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

fn figure(lines: &str) -> String {
    format!("title = \"t\"\n[scale]\nname = \"major\"\n[figure]\n{lines}")
}

#[track_caller]
fn clicked(lines: &str, at: (i64, i64), state: State, expected: &str) {
    let change = Edit::Count {
        figure: 0,
        at: Fraction::new(at.0, at.1),
        state: Some(state),
        division: Division::Halves,
    };
    let after = edit(&figure(lines), &change).map_err(|refusal| refusal.0);
    assert_eq!(after.as_deref(), Ok(figure(expected).as_str()), "{at:?}");
    crate::read(&after.unwrap(), "t").unwrap();
}

const MOVES: &str = "moves = \"start, step up, skip up, rest, step down\"\ncount = \"1 & 2 (3) 4\"\naccent = \"3 4\"\n";

#[test]
fn a_click_changes_one_note_and_no_other() {
    clicked(
        MOVES,
        (2, 1),
        State::Note,
        "moves = \"start, step up, skip up, repeat, rest, step down\"\ncount = \"1 & 2 3 (&) 4\"\naccent = \"3 5\"\n",
    );
    clicked(
        MOVES,
        (1, 2),
        State::Silence,
        "moves = \"start, rest, up 3 steps, rest, step down\"\ncount = \"1 (&) 2 (3) 4\"\naccent = \"2 3\"\n",
    );
    clicked(
        MOVES,
        (1, 2),
        State::Hold,
        "moves = \"start, up 3 steps, rest, step down\"\ncount = \"1-2 (3) 4\"\naccent = \"2 3\"\n"
            .replace("1-2", "1 2")
            .as_str(),
    );
    clicked(
        MOVES,
        (0, 1),
        State::Silence,
        "moves = \"rest, start on 2, skip up, rest, step down\"\ncount = \"(1) & 2 (3) 4\"\naccent = \"2 3\"\n",
    );
    clicked(
        "degrees = \"1 2 3 5\"\n",
        (1, 1),
        State::Silence,
        "degrees = \"1 2 5\"\ncount = \"1 & (2) &\"\n",
    );
    clicked(
        "rungs = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n",
        (1, 2),
        State::Note,
        "rungs = \"1 1 2 3 5\"\ncount = \"1 & 2 3 4\"\n",
    );
}

#[track_caller]
fn shifted(lines: &str, note: usize, by: (i32, i32), expected: &str) {
    let change = Edit::Shift {
        figure: 0,
        note,
        rungs: by.0,
        octaves: by.1,
    };
    let after = edit(&figure(lines), &change).map_err(|refusal| refusal.0);
    assert_eq!(after.as_deref(), Ok(figure(expected).as_str()));
    crate::read(&after.unwrap(), "t").unwrap();
}

#[test]
fn an_arrow_moves_one_note_and_no_other() {
    let moves = "moves = \"start, step up, skip up, from below, step down\"\n";
    shifted(
        moves,
        2,
        (1, 0),
        "moves = \"start, skip up, step up, from below, step down\"\n",
    );
    shifted(
        moves,
        3,
        (1, 0),
        "moves = \"start, step up, up 3 steps, from below, skip down\"\n",
    );
    shifted(
        moves,
        5,
        (0, 1),
        "moves = \"start, step up, skip up, from below, up 6 steps\"\n",
    );
    shifted(
        moves,
        1,
        (-1, 0),
        "moves = \"start on low 7, skip up, skip up, from below, step down\"\n",
    );
    shifted(
        moves,
        2,
        (-1, 0),
        "moves = \"start, repeat, up 3 steps, from below, step down\"\n",
    );
    shifted("degrees = \"1 3\"\n", 2, (1, 0), "degrees = \"1 4\"\n");
    shifted("degrees = \"1 3\"\n", 1, (0, -1), "degrees = \"low 1 3\"\n");
    shifted("rungs = \"1 7\"\n", 2, (1, 0), "rungs = \"1 high 1\"\n");
    let ornament = edit(
        &figure(moves),
        &Edit::Shift {
            figure: 0,
            note: 4,
            rungs: 1,
            octaves: 0,
        },
    );
    assert!(ornament.is_err());
}

#[test]
fn a_click_goes_note_silence_hold_note() {
    let mut text = figure(MOVES);
    let mut states = Vec::new();
    for _ in 0..3 {
        let click = Edit::Count {
            figure: 0,
            at: Fraction::new(1, 2),
            state: None,
            division: Division::Halves,
        };
        text = edit(&text, &click).unwrap();
        states.push(grid(&text, 0, Some(Division::Halves)).unwrap().cells[1].state);
    }
    assert_eq!(states, [State::Silence, State::Hold, State::Note]);
}

#[test]
fn a_row_names_its_counts_and_what_sounds() {
    let grid = grid(&figure(MOVES), 0, None).unwrap();
    let cells: Vec<String> = grid
        .cells
        .iter()
        .map(|cell| {
            let sounds = cell.sounds.as_deref().unwrap_or("-");
            format!("{}:{:?}:{sounds}", cell.name, cell.state)
        })
        .collect();
    assert_eq!(
        cells,
        [
            "1:Note:1",
            "1 and:Note:2",
            "2:Note:4",
            "2 and:Hold:-",
            "3:Silence:-",
            "3 and:Silence:-",
            "4:Note:3",
            "4 and:Hold:-",
        ]
    );
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

/// Every shipped lesson, through edits of every figure: each text reads
/// without a mistake, and what wasn't touched is the same.
#[test]
fn shipped_lessons_take_every_click() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures/lessons");
    let mut clicks = 0;
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        for figure in 0.. {
            let Some(grid) = grid(&text, figure, None) else {
                break;
            };
            for cell in &grid.cells {
                for state in [State::Note, State::Silence, State::Hold] {
                    let change = Edit::Count {
                        figure,
                        at: cell.at,
                        state: Some(state),
                        division: grid.division,
                    };
                    let Ok(after) = edit(&text, &change) else {
                        continue;
                    };
                    clicks += 1;
                    let again = super::grid(&after, figure, Some(grid.division))
                        .unwrap_or_else(|| panic!("{}: {change:?}\n{after}", path.display()));
                    let found = again.cells.iter().find(|other| other.at == cell.at);
                    let found = found.map(|cell| cell.state);
                    assert!(
                        found.is_none() || found == Some(state) || state == State::Hold,
                        "{}: {change:?}\n{after}",
                        path.display()
                    );
                    let notes = |grid: &Grid| -> Vec<(Fraction, Option<String>)> {
                        grid.cells
                            .iter()
                            .filter(|other| other.at != cell.at && other.state == State::Note)
                            .map(|cell| (cell.at, cell.sounds.clone()))
                            .collect()
                    };
                    assert_eq!(
                        notes(&grid),
                        notes(&again),
                        "{}: {change:?}\n{after}",
                        path.display()
                    );
                }
            }
        }
    }
    assert!(clicks > 200, "{clicks}");
}
