//! Which figure on which scale each exercise plays.
//!
//! A figure whose words name degrees goes other ways on other scales: each way
//! becomes a figure of its own, and so does each variant.

mod named;
mod phrase;
mod players;
mod student;

use std::ops::Range;

use lesson::{
    ComingDown, Direction, Ending, Exercise, ExerciseKind, Figure, Keys, Label, Player, Say, Span,
};
use rhythm::{Fraction, Meter, divisions};
use theory::{Ladder, Scale};

use crate::exercise::ExerciseText;
use crate::figure::{Cell, FigureText};
use crate::lesson_text::LessonText;
use crate::limit;
use crate::meaning::times_of;
use crate::over::over;
use crate::progression::Progression;
use crate::report::Report;
use crate::resolve::{resolve, resolve_moves};
use crate::said::{Said, Saying};
use crate::scale::ScaleText;
use crate::study::choices;
use crate::variant::expanded;
use crate::wording::{MoveWord, Wording};

use players::meant_for;
use student::{given, shows_chords};

/// The exercises of a lesson that names none.
const USUAL: [ExerciseKind; 3] = [
    ExerciseKind::Scale,
    ExerciseKind::Figure,
    ExerciseKind::Sequence,
];

/// What a lesson's exercises come to.
pub(crate) struct Assignment {
    pub figures: Vec<Figure>,
    pub exercises: Vec<Exercise>,
    /// What of series of variants was left out.
    pub remarks: Vec<String>,
}

/// What a lesson says of all its exercises; each `None` where it is unclear.
pub(crate) struct Setting<'a> {
    pub keys: Option<&'a Keys>,
    /// Who plays.
    pub players: Option<&'a [Player]>,
    /// Whom the lesson itself names: others, where its course says who plays.
    pub own: Option<&'a [Player]>,
    pub labels: Option<Vec<Label>>,
    pub chord_symbols: Option<bool>,
}

/// The figures and exercises of a lesson; `None` where any is unclear.
pub(crate) fn assign(
    text: &LessonText,
    progression: Option<&Progression>,
    setting: &Setting<'_>,
    report: &mut Report<'_>,
) -> Option<Assignment> {
    let figures = text.figures.as_deref();
    let usual: Vec<ExerciseText>;
    let exercises = match text.exercises.as_deref()? {
        [] => {
            let none = figures.is_some_and(<[FigureText]>::is_empty);
            if none && progression.is_none() {
                let help =
                    "write [figure] alone on a line and moves = \"start, step up, …\" below it";
                report.missing(
                    &text.place,
                    "the lesson has no figure and no exercise",
                    help,
                );
                return None;
            }
            let literal = figures
                .and_then(<[FigureText]>::first)
                .is_some_and(|figure| figure.literal);
            let kinds = match (progression, none) {
                (Some(_), true) => &[ExerciseKind::GuideTones][..],
                (Some(_), false) => &[ExerciseKind::Changes],
                (None, _) if literal => &[ExerciseKind::Figure],
                (None, _) => &USUAL,
            };
            usual = kinds.iter().copied().map(ExerciseText::plain).collect();
            usual.as_slice()
        }
        said => said,
    };
    let mut hall = Hall {
        scales: text.scales.as_deref(),
        texts: figures,
        usual: text.exercises.as_ref().is_some_and(Vec::is_empty),
        figures: Vec::new(),
    };
    let parts: Vec<Option<Part>> = exercises
        .iter()
        .map(|exercise| hall.part(exercise, report))
        .collect();
    // A scale takes only the meter of its figure, on whatever scale that is
    // played elsewhere: so scales come last.
    let mut numbers: Vec<Option<Option<usize>>> = vec![None; parts.len()];
    for scales in [false, true] {
        for (at, part) in parts.iter().enumerate() {
            if let Some(part) = part
                && (part.kind == ExerciseKind::Scale) == scales
            {
                numbers[at] = if part.kind.goes_over_changes() {
                    // Resolved on each chord's scale, once all others are.
                    with_changes(&exercises[at], part.kind, progression, report).map(|()| None)
                } else {
                    hall.figure_of(&exercises[at], part, report)
                };
            }
        }
    }
    let whom: Vec<Option<Option<Vec<usize>>>> = exercises
        .iter()
        .map(|exercise| meant_for(&exercise.only_for, setting, report))
        .collect();
    let mut remarks = Vec::new();
    let mut finished = Vec::new();
    for (place, (text, (part, figure))) in
        exercises.iter().zip(parts.iter().zip(numbers)).enumerate()
    {
        let (part, figure) = (part.as_ref()?, figure?);
        let only_for = whom[place].clone()?;
        if part.kind.goes_over_changes() {
            let progression = progression?;
            let over = over(&mut hall, text, part, progression, report)?;
            let first = over.choruses.first()?.figures.first();
            let figure = first.and_then(|(_, figures)| figures.first().copied());
            finished.push(Exercise {
                scale: progression.home,
                over: Some(over),
                hide: text.hide.maybe()?,
                ..exercise(text, part, figure, setting, only_for)?
            });
            continue;
        }
        let (played, left_out) = hall.variants(text, part, figure, report)?;
        remarks.extend(left_out.into_iter().map(|remark| {
            let kind = part.kind.word();
            format!("exercise {} ({kind}): {remark}", place + 1)
        }));
        let hide = hall.hide(text, part, setting, report)?;
        for (place, figure) in played.into_iter().enumerate() {
            let first = place == 0;
            let trade = hall.trade(text, part, figure, report)?;
            let exercise = Exercise {
                trade,
                hide,
                ..exercise(text, part, figure, setting, only_for.clone())?
            };
            if let (Some(players), Some(keys)) = (setting.players, setting.keys) {
                hall.asks_something(text, &exercise, players, keys, report);
            }
            finished.push(match first {
                true => exercise,
                // What the teacher says of them all stands over the first.
                false => Exercise {
                    heading: None,
                    text: Vec::new(),
                    ..exercise
                },
            });
        }
        if finished.len() > limit::EXERCISES {
            report.mistake(
                &variants_place(text),
                format!(
                    "with these variants the lesson has {} exercises",
                    finished.len()
                ),
                format!(
                    "a lesson has at most {}: name fewer variants",
                    limit::EXERCISES
                ),
            );
            return None;
        }
    }
    hall.one_clock(report);
    let figures = hall
        .figures
        .into_iter()
        .map(|resolved| resolved.figure)
        .collect();
    Some(Assignment {
        figures,
        exercises: finished,
        remarks,
    })
}

/// Scales and figures to choose from.
pub(crate) struct Hall<'t> {
    scales: Option<&'t [ScaleText]>,
    texts: Option<&'t [FigureText]>,
    /// Whether no exercise is said, so that none can be said wrong.
    usual: bool,
    figures: Vec<Resolved>,
}

/// A figure of the file on a scale.
struct Resolved {
    /// Which figure of the file; none for a study's own.
    text: Option<usize>,
    figure: Figure,
    /// Where a variant of the file's figure is said.
    varied: Option<Range<usize>>,
}

fn variants_place(text: &ExerciseText) -> Range<usize> {
    let said = text
        .variants
        .said()
        .and_then(|said| said.value.said.first());
    said.map_or(0..0, |first| first.place.clone())
}

/// An exercise's kind, scale and figure, as numbers in the file.
pub(crate) struct Part {
    pub kind: ExerciseKind,
    pub scale: usize,
    pub figure: Option<usize>,
}

impl<'t> Hall<'t> {
    fn part(&self, exercise: &ExerciseText, report: &mut Report<'_>) -> Option<Part> {
        let figure = self.figure(exercise, report);
        let says = exercise
            .kind
            .said()
            .is_some_and(|kind| kind.value.says_figure());
        let scale = match figure.and_then(|figure| self.literal(figure)) {
            Some(literal) if says => self.home(literal),
            _ => self.scale(&exercise.scale, report),
        };
        Some(Part {
            kind: exercise.kind.said()?.value,
            scale: scale?,
            figure: figure?,
        })
    }

    /// The number of an exercise's figure among those of the lesson.
    pub(crate) fn figure_of(
        &mut self,
        exercise: &ExerciseText,
        part: &Part,
        report: &mut Report<'_>,
    ) -> Option<Option<usize>> {
        if choices(part.kind).is_some() {
            return self.study_of(exercise, part).map(Some);
        }
        let Some(text) = part.figure else {
            return Some(None);
        };
        let cell = self.texts?.get(text)?.cell.as_ref()?;
        if part.kind == ExerciseKind::Scale {
            // Only its meter counts: the figure on any scale will do.
            if let Some(found) = self
                .figures
                .iter()
                .position(|resolved| resolved.text == Some(text) && resolved.varied.is_none())
            {
                return Some(Some(found));
            }
        } else {
            self.leads_somewhere(cell, exercise, report)?;
        }
        let name = self.texts?.get(text)?.name.maybe()?;
        if let Some(literal) = &cell.literal {
            let phrase = self.phrase(cell, literal, exercise, report)?;
            let phrase = Figure { name, ..phrase };
            return Some(Some(self.number(Some(text), phrase, None)));
        }
        let scale = &self.scales?.get(part.scale)?.scale.as_ref()?.scale;
        let moves = resolve(&cell.wording, scale, report);
        let flipped = match &cell.flipped {
            Some(words) => Some(resolve_moves(words, scale, report)?),
            None => None,
        };
        let figure = Figure {
            name,
            ..cell.figure(moves?, flipped)
        };
        Some(Some(self.number(Some(text), figure, None)))
    }

    /// The statement of a study, in the meter of the lesson's figure if there
    /// is one.
    fn study_of(&mut self, exercise: &ExerciseText, part: &Part) -> Option<usize> {
        let meter = match part.figure {
            Some(text) => self.texts?.get(text)?.cell.as_ref()?.meter.clone(),
            None => Meter::common(),
        };
        let figure = exercise.study.said()?.value.figure(meter);
        Some(self.number(None, figure, None))
    }

    /// The figures that an exercise plays one after another: its own, or the
    /// variants it asks for.
    pub(crate) fn variants(
        &mut self,
        exercise: &ExerciseText,
        part: &Part,
        figure: Option<usize>,
        report: &mut Report<'_>,
    ) -> Option<(Vec<Option<usize>>, Vec<String>)> {
        let variants = match (&exercise.variants, figure) {
            (Saying::Unclear, _) => return None,
            (Saying::Said(said), Some(figure)) => (&said.value, figure),
            _ => return Some((vec![figure], Vec::new())),
        };
        let (said, figure) = variants;
        let scale = &self.scales?.get(part.scale)?.scale.as_ref()?.scale;
        let size = Ladder::new(scale).size();
        let text = self.figures.get(figure)?.text;
        let (figures, remarks) = expanded(said, &self.figures.get(figure)?.figure, size, report)?;
        let varied = variants_place(exercise);
        let played = figures
            .into_iter()
            .map(|figure| Some(self.number(text, figure, Some(&varied))));
        Some((played.collect(), remarks))
    }

    /// The number of a figure among the lesson's.
    fn number(
        &mut self,
        text: Option<usize>,
        figure: Figure,
        varied: Option<&Range<usize>>,
    ) -> usize {
        let same = |resolved: &Resolved| resolved.text == text && resolved.figure == figure;
        self.figures.iter().position(same).unwrap_or_else(|| {
            self.figures.push(Resolved {
                text,
                figure,
                varied: varied.cloned(),
            });
            self.figures.len() - 1
        })
    }

    /// Variants, too, are written in the lesson's one smallest part of a
    /// quarter.
    fn one_clock(&self, report: &mut Report<'_>) {
        let mut times = vec![Fraction::new(1, 2)];
        let (plain, varied): (Vec<_>, Vec<_>) = self
            .figures
            .iter()
            .partition(|resolved| resolved.varied.is_none());
        for resolved in plain.into_iter().chain(varied) {
            times.extend(times_of(&resolved.figure.meter, &resolved.figure.count));
            times.sort_unstable();
            times.dedup();
            if let (Err(error), Some(place)) = (divisions(times.iter().copied()), &resolved.varied)
            {
                let help = "put these variants into a lesson of their own";
                report.mistake(place, error.to_string(), help);
                return;
            }
        }
    }

    /// A figure by its number among the lesson's.
    pub(crate) fn resolved(&self, at: usize) -> &Figure {
        &self.figures[at].figure
    }

    /// A scale by its number.
    pub(crate) fn scale_at(&self, at: usize) -> Option<&Scale> {
        let scale = self.scales?.get(at)?.scale.as_ref()?;
        Some(&scale.scale)
    }

    /// The number of a variant of a figure.
    pub(crate) fn add(&mut self, of: usize, figure: Figure, varied: &Range<usize>) -> usize {
        let text = self.figures[of].text;
        self.number(text, figure, Some(varied))
    }

    /// An ornament at the very end leads to the next statement or the closing
    /// root; where neither follows, it leads nowhere.
    fn leads_somewhere(
        &self,
        cell: &Cell,
        exercise: &ExerciseText,
        report: &mut Report<'_>,
    ) -> Option<()> {
        let kind = exercise.kind.said()?.value;
        let say = exercise.say.or(Say::default())?;
        let closes = kind != ExerciseKind::Scale
            && !kind.says_once(say)
            && exercise.ending.or(Ending::Root)? == Ending::Root;
        if closes || self.usual {
            return Some(());
        }
        let Wording::Moves(moves) = &cell.wording else {
            return Some(());
        };
        let direction = exercise.direction.or(kind.usual_direction(say))?;
        let coming_down = exercise.coming_down.or(ComingDown::default())?;
        // Reversed, what leads out of the figure still stands at its end.
        let ends_flipped = direction != Direction::Up && coming_down == ComingDown::Flipped;
        let last_form = cell
            .flipped
            .as_ref()
            .filter(|_| ends_flipped)
            .unwrap_or(moves);
        let sounds = |said: &&Said<MoveWord>| said.value != MoveWord::Rest;
        let last = last_form.iter().rfind(sounds)?;
        if last.value.is_ornament() {
            let message = format!(
                "this ornament leads to no note where an exercise of the kind {} ends",
                kind.word()
            );
            let help = "end on a note, or let a sequence close on its root";
            report.mistake(&last.place, message, help);
            return None;
        }
        Some(())
    }
}

/// An exercise over changes needs some.
fn with_changes(
    text: &ExerciseText,
    kind: ExerciseKind,
    progression: Option<&Progression>,
    report: &mut Report<'_>,
) -> Option<()> {
    if progression.is_none() {
        report.missing(
            &text.kind.said().map_or(0..0, |said| said.place.clone()),
            format!("an exercise of the kind {} needs changes", kind.word()),
            "write [changes] alone on a line, and bars = \"| C7 | F7 |\" below it",
        );
    }
    progression.map(|_| ())
}

fn exercise(
    text: &ExerciseText,
    part: &Part,
    figure: Option<usize>,
    setting: &Setting<'_>,
    only_for: Option<Vec<usize>>,
) -> Option<Exercise> {
    let span = match part.kind {
        ExerciseKind::Scale => Span::WholeHorn,
        ExerciseKind::Figure
        | ExerciseKind::Sequence
        | ExerciseKind::Keys
        | ExerciseKind::Intervals
        | ExerciseKind::Runs
        | ExerciseKind::Trade
        | ExerciseKind::Changes
        | ExerciseKind::GuideTones
        | ExerciseKind::Targets => Span::OneOctave,
    };
    let say = text.say.or(Say::default())?;
    let own_keys = match &text.keys {
        Saying::Unsaid => None,
        said => Some(said.said()?.value.keys(setting.keys?)),
    };
    Some(Exercise {
        kind: part.kind,
        say,
        broken: text.broken.or(false)?,
        only_for,
        heading: text.heading.maybe()?,
        text: text.text.clone()?,
        words: text.words.or(Vec::new())?,
        scale: part.scale,
        figure,
        direction: text.direction.or(part.kind.usual_direction(say))?,
        coming_down: text.coming_down.or(ComingDown::default())?,
        span: text.span.or(span)?,
        when_too_wide: text.when_too_wide.or(Default::default())?,
        ending: text.ending.or(Ending::default())?,
        chord: text.chord.maybe()?,
        chord_symbols: shows_chords(text, setting)?,
        level: text.level.maybe()?,
        keys: own_keys,
        tempo: text.tempo.maybe()?,
        labels: text.labels.maybe()?,
        dynamic: text.dynamic.maybe()?,
        breath: text.breath.maybe()?,
        trade: None,
        given: given(text)?,
        hide: None,
        over: None,
    })
}
