//! A lesson's figures, each by itself on a small staff: said once, as the
//! player who is looked at reads it in the key that is looked at.

use copyist::{CopyError, Stop, composer, unless_stopped};
use engrave::{Paper, Role, SETTING, escape, outlines};
use etude::SheetPlan;
use lesson::{ComingDown, Direction, Exercise, ExerciseKind, Lesson, Once, TooWide};
use lesson_text::edit::Grid;
use score::{Element, Score};
use serde_json::{Value as Json, json};

use crate::called::called;

/// Pixels of a staff space on the page.
const SPACE: i64 = 7;
/// Micrometres left around the ink.
const EDGE: i32 = 1_200;

/// The small lesson of one figure: one player, the figure once, nothing
/// around it. None where the lesson has it nowhere.
pub(crate) fn alone(lesson: &Lesson, plan: &SheetPlan, name: Option<&str>) -> Option<Lesson> {
    let (exercise, figure, scale) = chosen(lesson, name)?;
    let once = Exercise {
        kind: ExerciseKind::Figure(Once {
            figure,
            direction: Direction::Up,
            coming_down: ComingDown::AsItIs,
            when_too_wide: TooWide::default(),
        }),
        only_for: None,
        heading: Some(String::new()),
        text: Vec::new(),
        words: Vec::new(),
        scale,
        keys: None,
        tempo: None,
        labels: Some(Vec::new()),
        given: None,
        hide: None,
        ..exercise.clone()
    };
    Some(Lesson {
        players: vec![lesson.players.get(plan.player)?.clone()],
        labels: Vec::new(),
        exercises: vec![once],
        answers: false,
        care: false,
        together: false,
        ..lesson.clone()
    })
}

/// A figure as it is, with an exercise and a scale that it is played on, both
/// by their places in the lesson; where it is played turned only, or not at
/// all, that of whoever plays it, or the first.
fn chosen<'l>(lesson: &'l Lesson, name: Option<&str>) -> Option<(&'l Exercise, usize, usize)> {
    let own = |place: usize| {
        let figure = lesson.figures.get(place);
        figure.is_some_and(|figure| name.is_none() || figure.name.as_deref() == name)
    };
    let plain = |place: usize| own(place) && lesson.figures[place].variant.is_none();
    let by = |wanted: &dyn Fn(usize) -> bool| {
        lesson.exercises.iter().find_map(|exercise| {
            let (figure, scale) = played(exercise, wanted)?;
            Some((exercise, figure, scale))
        })
    };
    by(&plain).or_else(|| {
        // Where its words name degrees it is another on each scale.
        let mut as_it_is = (0..lesson.figures.len()).filter(|place| plain(*place));
        let figure = as_it_is.next().filter(|_| as_it_is.next().is_none())?;
        let (exercise, scale) = match by(&own) {
            Some((exercise, _, scale)) => (exercise, scale),
            None => (lesson.exercises.first()?, lesson.exercises.first()?.scale),
        };
        Some((exercise, figure, scale))
    })
}

/// The figure of a kind that an exercise plays, and on which scale.
fn played(exercise: &Exercise, wanted: &dyn Fn(usize) -> bool) -> Option<(usize, usize)> {
    let Some(over) = exercise.kind.over() else {
        let own = exercise
            .kind
            .figure()
            .filter(|_| exercise.kind.name().says_figure())?;
        return wanted(own).then_some((own, exercise.scale));
    };
    // Over changes, on the first chord that it is played on.
    let scales = over.chords.iter().filter_map(|chord| chord.scale);
    scales
        .flat_map(|scale| over.choruses.iter().map(move |chorus| (scale, chorus)))
        .find_map(|(scale, chorus)| {
            let figure = chorus.on(scale).iter().copied().find(|own| wanted(*own))?;
            Some((figure, scale))
        })
}

/// The small lesson's sheet in the key that is looked at; where that moves
/// through the keys, in the first.
///
/// # Errors
/// That someone asked to stop.
pub(crate) fn composed(
    small: &Lesson,
    plan: &SheetPlan,
    stop: &Stop,
) -> Result<Option<Score>, CopyError> {
    let Ok(composer) = composer(small, stop) else {
        return Ok(None);
    };
    let same = |own: &&SheetPlan| own.concert.class() == plan.concert.class();
    let plans = composer.plans();
    let Some(own) = plans.iter().find(same).or_else(|| plans.first()) else {
        return Ok(None);
    };
    let sheet = unless_stopped(composer.compose(own))?;
    Ok(sheet.ok().map(|sheet| sheet.score))
}

/// The figures of a lesson in order, each as `svg`, what a screen reader says
/// of it (`name`), what it stands on (`on`), and its written notes (`notes`:
/// bar and onset as the picture has them, and the count in quarters from the
/// figure's first bar line), and whether it `goesOn` after what is drawn. Null
/// where it can't be drawn.
///
/// # Errors
/// That someone asked to stop.
pub(crate) fn staves(
    lesson: &Lesson,
    plan: &SheetPlan,
    figures: &[Grid],
    stop: &Stop,
) -> Result<Json, CopyError> {
    let drawn = figures.iter().enumerate().map(|(place, figure)| {
        let Some(small) = alone(lesson, plan, figure.name.as_deref()) else {
            return Ok(Json::Null);
        };
        let score = composed(&small, plan, stop)?;
        Ok(score
            .and_then(|score| staff(&small, &score, place))
            .unwrap_or(Json::Null))
    });
    drawn.collect()
}

/// A figure's staff; none where it can't be drawn.
fn staff(small: &Lesson, score: &Score, place: usize) -> Option<Json> {
    let (svg, goes_on) = picture(score, &format!("figure-{place}"))?;
    let notes = notes(score);
    let said: Vec<&str> = notes.iter().map(|note| note.name.as_str()).collect();
    let scale = &small.scales[small.exercises[0].scale].scale.name;
    let on = format!("on {scale}, for {}", called(&small.players[0]));
    Some(json!({
        "svg": svg,
        "name": format!("Staff: {}", said.join(", ")),
        "on": on,
        "goesOn": goes_on,
        "notes": notes
            .iter()
            .map(|note| json!([note.bar, note.onset, note.count]))
            .collect::<Vec<_>>(),
    }))
}

/// A written note that is struck.
struct Struck {
    name: String,
    bar: String,
    onset: String,
    count: String,
}

fn notes(score: &Score) -> Vec<Struck> {
    let divisions = i64::from(score.divisions.max(1));
    let quarters = |ticks: i64| rhythm::Fraction::new(ticks, divisions).to_string();
    let mut notes = Vec::new();
    let mut bar_line = 0;
    for (place, bar) in score.part.measures.iter().enumerate() {
        let length: i64 = bar
            .elements
            .iter()
            .map(|element| i64::from(element.written().length))
            .sum();
        if place == 0 && bar.implicit {
            bar_line = -length;
        }
        let name = bar.label().to_string();
        let mut within = 0;
        for element in &bar.elements {
            if let Element::Note(note) = element
                && !note.tied_from
            {
                notes.push(Struck {
                    name: format!("{}{}", note.pitch.name().signs(), note.pitch.octave()),
                    bar: name.clone(),
                    onset: quarters(within),
                    count: quarters(bar_line + within),
                });
            }
            within += i64::from(element.written().length);
        }
        bar_line += length;
    }
    notes
}

/// The systems of the first page, cut out of it, and whether there are more.
fn picture(score: &Score, name: &str) -> Option<(String, bool)> {
    let mut pages = engrave::sheet(score, Paper::of(score)).pages.into_iter();
    let mut page = pages.next()?;
    page.frames.retain(|placed| {
        placed
            .frame
            .marks
            .iter()
            .any(|mark| mark.role == Role::Staff)
    });
    let space = i64::from(page.frames.first()?.thousand.max(1));
    let mut seen = page.seen().map(|seen| seen.ink);
    let first = seen.next()?;
    let (mut left, mut top, mut right, mut bottom) =
        (first.left, first.top, first.right, first.bottom);
    for ink in seen {
        left = left.min(ink.left);
        top = top.min(ink.top);
        right = right.max(ink.right);
        bottom = bottom.max(ink.bottom);
    }
    let (width, height) = (right - left + 2 * EDGE, bottom - top + 2 * EDGE);
    let pixels = |length: i32| i64::from(length) * SPACE / space;
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" {SETTING} width=\"{}\" height=\"{}\" \
         viewBox=\"{} {} {width} {height}\"><title>{}</title><defs>{}</defs>{}</svg>",
        pixels(width),
        pixels(height),
        left - EDGE,
        top - EDGE,
        escape(&page.title),
        outlines([&page], name),
        page.marks(name),
    );
    Some((svg, pages.next().is_some()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use lesson_text::edit::grid;

    fn drawn(text: &str, player: usize) -> Json {
        let lesson = lesson_text::read_with(text, "a", None).unwrap();
        let stop = Stop::default();
        let composer = composer(&lesson, &stop).unwrap();
        let mut plans = composer.plans().iter();
        let plan = plans.find(|plan| plan.player == player).unwrap();
        let figures: Vec<Grid> = (0..).map_while(|at| grid(text, at, None)).collect();
        staves(&lesson, plan, &figures, &stop).unwrap()
    }

    const LESSON: &str = "title = \"t\"\ninstruments = [\"alto saxophone\", \"trombone\"]\n\
                          [scale]\nname = \"dorian\"\n[figure]\n\
                          moves = \"start, step up, rest, step up\"\ncount = \"4 | 1 (2) 3\"\n";

    /// As the player reads it, each note at the count it is struck on.
    #[test]
    fn a_figure_stands_on_its_counts() {
        let staves = drawn(LESSON, 0);
        assert_eq!(staves[0]["name"], "Staff: A4, B4, C5");
        assert_eq!(
            staves[0]["notes"],
            json!([["0", "0", "-1"], ["1", "0", "0"], ["1", "2", "2"]])
        );
        assert_eq!(staves[0]["on"], "on Dorian, for Alto Saxophone in E♭");
        let svg = staves[0]["svg"].as_str().unwrap();
        assert_eq!(svg.matches("<g class=\"note\"").count(), 3);
        assert!(!svg.contains("class=\"letter\"") && !svg.contains("class=\"label\""));
        assert_eq!(drawn(LESSON, 1)[0]["name"], "Staff: C3, D3, E♭3");
    }

    /// Of several each by its name, of variants the figure itself; over
    /// changes on the first chord's scale; also where nobody plays it yet.
    #[test]
    fn each_figure_is_drawn_as_it_is() {
        let over = "title = \"t\"\n[[figure]]\nname = \"four\"\ndegrees = \"1 2 3 5\"\n\
                    [[figure]]\nname = \"hop\"\ndegrees = \"1 5\"\n\
                    [changes]\nbars = \"| Dm7 | G7 | Cmaj7 | same |\"\n\
                    [[exercise]]\nkind = \"changes\"\nfigures = [\"four\", \"hop\"]\n";
        let staves = drawn(over, 0);
        assert_eq!(staves[0]["on"], "on Dorian, for Concert pitch, treble clef");
        assert_eq!(staves.as_array().unwrap().len(), 2);
        assert!(staves[1]["name"].as_str().unwrap().matches(',').count() == 1);
        let flipped = LESSON.to_owned()
            + "[[exercise]]\nkind = \"sequence\"\nvariants = [\"flipped\", \"as it is\"]\n";
        assert_eq!(drawn(&flipped, 1)[0]["name"], "Staff: C3, D3, E♭3");
        let unheard = LESSON.to_owned() + "[[exercise]]\nkind = \"scale\"\n";
        assert_eq!(drawn(&unheard, 1)[0]["name"], "Staff: C3, D3, E♭3");
    }
}
