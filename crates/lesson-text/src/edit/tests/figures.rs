//! Clicks and arrows on a figure.

use super::*;

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
