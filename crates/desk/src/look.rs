//! From a text to all that the page shows of it: mistakes, what can be
//! chosen, and the first page of one sheet, in one answer.

use copyist::{CopyError, Refusal, Stop, composer, unless_stopped};
use etude::{Composer, Sheet, SheetPlan};
use lesson::{Lesson, Named};
use lesson_text::Mistake;
use lesson_text::edit::{Grid, grid, values};
use serde_json::{Value as Json, json};

use crate::called::called;
use crate::figure_staff::staves;
use crate::folder::Folder;
use crate::json::{division, of_grid, of_value};
use crate::{lessons, sheet};

/// What somebody looks at.
#[derive(Debug, Clone, Default)]
pub(crate) struct View {
    /// The lesson's file.
    pub file: String,
    /// Its text as it stands in the page.
    pub text: String,
    /// Which player, from 0.
    pub player: usize,
    /// The sheet's name among the player's: `03-b-flat`.
    pub key: String,
    /// Its number in the order of keys, which goes on where the name is another
    /// player's.
    pub number: Option<u16>,
    /// How finely each figure is counted, if that was chosen.
    pub divisions: Vec<Option<String>>,
    /// Which figure is to be heard by itself, from 0.
    pub figure: Option<usize>,
}

impl View {
    pub(crate) fn of(json: &Json) -> Option<View> {
        let divisions = json.get("divisions").and_then(Json::as_array);
        let number = |key: &str| {
            let number = json.get(key).and_then(Json::as_u64);
            number.and_then(|number| usize::try_from(number).ok())
        };
        Some(View {
            file: json.get("file")?.as_str()?.to_owned(),
            text: json.get("text")?.as_str()?.to_owned(),
            player: number("player").unwrap_or(0),
            figure: number("figure"),
            number: number("number").and_then(|number| u16::try_from(number).ok()),
            key: json
                .get("key")
                .and_then(Json::as_str)
                .unwrap_or_default()
                .to_owned(),
            divisions: divisions
                .map(|all| {
                    all.iter()
                        .map(|one| one.as_str().map(str::to_owned))
                        .collect()
                })
                .unwrap_or_default(),
        })
    }

    /// The player's place and the plan of the sheet, the first that there is
    /// where another was shown before.
    pub(crate) fn plan(&self, composer: &Composer<'_>) -> Option<SheetPlan> {
        let player = self
            .player
            .min(composer.lesson().players.len().checked_sub(1)?);
        let own = || composer.plans().iter().filter(|plan| plan.player == player);
        own()
            .find(|plan| plan.stem() == self.key)
            .or_else(|| own().find(|plan| Some(plan.number) == self.number))
            .or_else(|| own().next())
            .copied()
    }
}

/// Everything but the pages after the first.
///
/// # Errors
/// That someone asked to stop.
pub(crate) fn look(folder: &Folder, shown: &View, stop: &Stop) -> Result<Json, CopyError> {
    let text = &shown.text;
    let figures = grids(shown);
    let mut answer = json!({
        "says": of_value(&values(text)),
        "figures": figures.iter().map(of_grid).collect::<Vec<_>>(),
        "mistakes": [],
    });
    match lessons::read(folder, &shown.file, text) {
        Ok(lesson) => match composer(&lesson, stop) {
            Ok(composer) => add(&mut answer, &composer, shown, &figures, stop)?,
            Err(Refusal { message, help }) => {
                answer["mistakes"] = json!([{
                    "from": 0, "to": 0, "line": 1, "message": message, "help": help,
                }]);
            }
        },
        Err(mistakes) => answer["mistakes"] = of_mistakes(text, &mistakes),
    }
    Ok(answer)
}

/// The figures' rows of counts, up to the first that is unclear.
fn grids(shown: &View) -> Vec<Grid> {
    let chosen = |place: usize| {
        let word = shown.divisions.get(place).and_then(Option::as_deref);
        word.and_then(division)
    };
    (0..)
        .map_while(|place| grid(&shown.text, place, chosen(place)))
        .collect()
}

fn add(
    answer: &mut Json,
    composer: &Composer<'_>,
    shown: &View,
    figures: &[Grid],
    stop: &Stop,
) -> Result<(), CopyError> {
    let lesson = composer.lesson();
    answer["players"] = lesson
        .players
        .iter()
        .map(|player| json!(called(player)))
        .collect();
    let Some(plan) = shown.plan(composer) else {
        return Ok(());
    };
    let own = composer
        .plans()
        .iter()
        .filter(|one| one.player == plan.player);
    answer["keys"] = own.map(|one| key(lesson, one)).collect();
    answer["player"] = json!(plan.player);
    answer["key"] = json!(plan.stem());
    answer["number"] = json!(plan.number);
    match unless_stopped(composer.compose(&plan))? {
        Ok(made) => {
            let drawn = sheet::first(&made.score, &plan.stem());
            answer["sheet"] = json!({
                "name": name(lesson, &plan),
                "pages": drawn.pages,
                "first": drawn.svg,
                "bars": made.report.bars,
            });
            answer["know"] = remarks(&made);
        }
        Err(left_out) => answer["leftOut"] = json!(left_out.to_string()),
    }
    answer["staves"] = staves(lesson, &plan, figures, stop)?;
    Ok(())
}

/// The pages after the first, and what there is to know of all sheets.
///
/// # Errors
/// That someone asked to stop.
pub(crate) fn rest(folder: &Folder, shown: &View, stop: &Stop) -> Result<Json, CopyError> {
    let Ok(lesson) = lessons::read(folder, &shown.file, &shown.text) else {
        return Ok(json!({}));
    };
    let Ok(composer) = composer(&lesson, stop) else {
        return Ok(json!({}));
    };
    let mut pages = Vec::new();
    if let Some(plan) = shown.plan(&composer)
        && let Ok(made) = unless_stopped(composer.compose(&plan))?
    {
        pages = sheet::rest(&made.score, &plan.stem());
    }
    Ok(json!({ "pages": pages, "know": know(&composer)? }))
}

/// Sheets of a lesson past which not all are looked through while somebody
/// waits.
const LOOKED_THROUGH: usize = 600;

/// What a teacher should know before printing, in sentences.
fn know(composer: &Composer<'_>) -> Result<Vec<String>, CopyError> {
    let plans = composer.plans();
    let (mut turned, mut jumped, mut left_out) = (0usize, 0usize, Vec::new());
    for plan in plans.iter().take(LOOKED_THROUGH) {
        match unless_stopped(composer.compose(plan))? {
            Ok(made) => {
                turned += usize::from(made.report.turns > 0);
                jumped += usize::from(made.report.jumps > 0);
            }
            Err(fault) => left_out.push(format!(
                "{}: {fault}",
                called(&composer.lesson().players[plan.player])
            )),
        }
    }
    let sheets = |count: usize, one: &str, several: &str| match count {
        0 => None,
        1 => Some(format!("1 sheet {one}")),
        count => Some(format!("{count} sheets {several}")),
    };
    let mut know = vec![match plans.len() {
        1 => "1 sheet in all".to_owned(),
        all => format!("{all} sheets in all"),
    }];
    know.extend(sheets(turned, "turns round early", "turn round early"));
    know.extend(sheets(jumped, "jumps an octave", "jump an octave"));
    know.extend(composer.lesson().remarks.iter().cloned());
    know.extend(left_out);
    Ok(know)
}

fn remarks(made: &Sheet) -> Json {
    let exercises = made.report.exercises.iter();
    exercises
        .flat_map(|exercise| {
            let remarks = exercise.remarks.iter();
            remarks.map(|remark| json!(format!("{}: {remark}", exercise.heading)))
        })
        .collect()
}

fn key(lesson: &Lesson, plan: &SheetPlan) -> Json {
    let (said, other) = match named(lesson, plan) {
        Named::Concert => (plan.concert, plan.written),
        Named::Written => (plan.written, plan.concert),
    };
    let short = if plan.through_keys {
        "through the keys".to_owned()
    } else {
        said.signs()
    };
    let long = match named(lesson, plan) {
        _ if plan.through_keys => short.clone(),
        Named::Concert => format!("concert {short}, written {}", other.signs()),
        Named::Written => format!("written {short}, concert {}", other.signs()),
    };
    json!({ "stem": plan.stem(), "number": plan.number, "short": short, "long": long })
}

fn named(lesson: &Lesson, plan: &SheetPlan) -> Named {
    let own = lesson.players[plan.player].keys.as_ref();
    own.unwrap_or(&lesson.keys).named
}

/// How the sheet is named to somebody who can't see it.
pub(crate) fn name(lesson: &Lesson, plan: &SheetPlan) -> String {
    let player = called(&lesson.players[plan.player]);
    if plan.through_keys {
        return format!("{}, {player}, through the keys", lesson.title);
    }
    format!(
        "{}, {player}, written {}, concert {}",
        lesson.title,
        plan.written.signs(),
        plan.concert.signs()
    )
}

/// Mistakes with their places in the units that a page counts in.
pub(crate) fn of_mistakes(text: &str, mistakes: &[Mistake]) -> Json {
    let units = |at: usize| text[..at].encode_utf16().count();
    let mistakes = mistakes.iter().map(|mistake| {
        json!({
            "from": units(mistake.span.start),
            "to": units(mistake.span.end),
            "line": text[..mistake.span.start].matches('\n').count() + 1,
            "message": mistake.message,
            "help": mistake.help,
        })
    });
    mistakes.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> View {
        View {
            file: "a.toml".to_owned(),
            text: text.to_owned(),
            ..View::default()
        }
    }

    fn folder() -> Folder {
        Folder::open(&std::env::temp_dir()).unwrap()
    }

    fn looked(shown: &View) -> Json {
        look(&folder(), shown, &Stop::default()).unwrap()
    }

    const LESSON: &str = "title = \"Stairs\"\ninstruments = [\"alto saxophone\", \"flute\"]\n\
                          [scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up\"\n";

    #[test]
    fn a_good_text_gives_choices_and_a_page() {
        let answer = looked(&shown(LESSON));
        assert_eq!(answer["mistakes"], json!([]));
        assert_eq!(answer["players"], json!(["Alto Saxophone in E♭", "Flute"]));
        assert_eq!(answer["key"], "01-a");
        assert_eq!(answer["keys"][0]["long"], "concert C, written A");
        assert_eq!(
            answer["sheet"]["name"],
            "Stairs, Alto Saxophone in E♭, written A, concert C"
        );
        assert!(
            answer["sheet"]["first"]
                .as_str()
                .unwrap()
                .starts_with("<svg")
        );
        assert_eq!(answer["figures"][0]["cells"][0]["name"], "1");
        let flute = View {
            player: 1,
            key: "03-g".to_owned(),
            number: Some(3),
            ..shown(LESSON)
        };
        assert_eq!(looked(&flute)["key"], "03-b-flat");
    }

    /// What is given up is not told as a sheet that is left out.
    #[test]
    fn what_nobody_waits_for_has_no_answer() {
        let stop = Stop::default();
        stop.ask();
        for ended in [
            look(&folder(), &shown(LESSON), &stop),
            rest(&folder(), &shown(LESSON), &stop),
        ] {
            assert!(matches!(ended, Err(CopyError::Stopped)), "{ended:?}");
        }
    }

    #[test]
    fn mistakes_stand_where_the_page_counts_them() {
        let text = LESSON.replace("Stairs", "𝄞").replace("dorian", "dorain");
        let answer = looked(&shown(&text));
        let mistake = &answer["mistakes"][0];
        let units: Vec<u16> = text.encode_utf16().collect();
        let from = mistake["from"].as_u64().unwrap() as usize;
        let to = mistake["to"].as_u64().unwrap() as usize;
        assert_eq!(String::from_utf16(&units[from..to]).unwrap(), "\"dorain\"");
        assert_eq!(mistake["line"], 4);
        assert_eq!(answer["says"]["title"], "𝄞");
    }

    #[test]
    fn what_lies_outside_is_told_and_not_read() {
        for file in ["../x.musicxml", "/etc/passwd", "none.musicxml"] {
            let text = LESSON.to_owned() + &format!("[changes]\nlead_sheet = \"{file}\"\n");
            let answer = looked(&shown(&text));
            let message = answer["mistakes"][0]["message"].as_str().unwrap();
            let expected = if file.starts_with("none") {
                "there is no file"
            } else {
                "outside of this folder"
            };
            assert!(message.contains(expected), "{message}");
        }
    }
}
