//! An exercise with everything decided.

use lesson::{
    ComingDown, Ending, Exercise, ExerciseKind, KindName, Once, Over, Phrasing, Say, SayName,
    ScaleRun, Sequence, Study, TooWide,
};

use crate::meaning::exercise_numbers::ExerciseNumbers;
use crate::meaning::material::Material;
use crate::meaning::over::over;
use crate::meaning::progression::Progression;
use crate::meaning::setting::Setting;
use crate::meaning::student::{given, shows_chords};
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::typed::exercise::ExerciseText;

/// What an exercise says, and what it plays.
pub(super) struct ExerciseMaker<'a> {
    pub text: &'a ExerciseText,
    pub numbers: &'a ExerciseNumbers,
    /// Its figure among the lesson's.
    pub figure: Option<usize>,
    /// For whom it is; none for all.
    pub only_for: Option<Vec<usize>>,
    pub progression: Option<&'a Progression>,
    pub setting: &'a Setting<'a>,
}

impl ExerciseMaker<'_> {
    /// An exercise for each variant of its figure, and what is to be said of
    /// those left out. Over changes there is one, which chooses among them.
    pub(super) fn exercises(
        &self,
        material: &mut Material<'_>,
        report: &mut Report<'_>,
    ) -> Option<(Vec<Exercise>, Vec<String>)> {
        let (text, numbers) = (self.text, self.numbers);
        let over_changes = numbers.kind.row().over_changes;
        let (played, left_out) = if over_changes {
            (vec![None], Vec::new())
        } else {
            material.variants(text, numbers, self.figure, report)?
        };
        let hide = if over_changes {
            text.hide.maybe().ok()?
        } else {
            material.hide(text, numbers, self.setting, report).ok()?
        };
        let mut exercises = Vec::with_capacity(played.len());
        for (index, figure) in played.into_iter().enumerate() {
            let exercise = Exercise {
                hide,
                ..self.exercise(self.kind(figure, material, report)?)?
            };
            material.asks_something(text, &exercise, self.setting, report);
            exercises.push(match index {
                0 => exercise,
                // What the teacher says of them all stands over the first.
                _ => Exercise {
                    heading: None,
                    text: Vec::new(),
                    ..exercise
                },
            });
        }
        Some((exercises, left_out))
    }

    /// What is played of a figure.
    fn kind(
        &self,
        figure: Option<usize>,
        material: &mut Material<'_>,
        report: &mut Report<'_>,
    ) -> Option<ExerciseKind> {
        Some(match self.numbers.kind {
            KindName::Scale => ExerciseKind::Scale(self.run(figure)?),
            KindName::Figure => ExerciseKind::Figure(self.once(figure?)?),
            KindName::Sequence => ExerciseKind::Sequence(self.sequence(figure?)?),
            KindName::Keys => ExerciseKind::Keys(match self.say()? {
                SayName::Figure => Say::Figure(self.once(figure?)?),
                SayName::Sequence => Say::Sequence(self.sequence(figure?)?),
            }),
            KindName::Intervals => ExerciseKind::Intervals(self.study(figure?)?),
            KindName::Runs => ExerciseKind::Runs(self.study(figure?)?),
            KindName::Trade => ExerciseKind::Trade(
                self.sequence(figure?)?,
                material.trade(self.text, figure?, report)?,
            ),
            KindName::Changes => {
                let (over, phrasing) = self.over(material, report)?;
                ExerciseKind::Changes(over, phrasing)
            }
            KindName::GuideTones => ExerciseKind::GuideTones(self.over(material, report)?.0),
            KindName::Targets => ExerciseKind::Targets(self.over(material, report)?.0),
        })
    }

    fn say(&self) -> Option<SayName> {
        self.text.say.or(SayName::default())
    }

    fn run(&self, meter: Option<usize>) -> Option<ScaleRun> {
        let (text, kind) = (self.text, self.numbers.kind);
        Some(ScaleRun {
            meter,
            direction: text.direction.or(kind.usual_direction(self.say()?))?,
            span: text.span.or(kind.row().span)?,
            when_too_wide: text.when_too_wide.or(TooWide::default())?,
        })
    }

    fn once(&self, figure: usize) -> Option<Once> {
        let (text, kind) = (self.text, self.numbers.kind);
        Some(Once {
            figure,
            direction: text.direction.or(kind.usual_direction(self.say()?))?,
            coming_down: text.coming_down.or(ComingDown::default())?,
            when_too_wide: text.when_too_wide.or(TooWide::default())?,
        })
    }

    fn sequence(&self, figure: usize) -> Option<Sequence> {
        let (text, kind) = (self.text, self.numbers.kind);
        Some(Sequence {
            figure,
            direction: text.direction.or(kind.usual_direction(self.say()?))?,
            coming_down: text.coming_down.or(ComingDown::default())?,
            span: text.span.or(kind.row().span)?,
            when_too_wide: text.when_too_wide.or(TooWide::default())?,
            ending: text.ending.or(Ending::default())?,
        })
    }

    fn study(&self, figure: usize) -> Option<Study> {
        Some(Study {
            sequence: self.sequence(figure)?,
            broken: self.text.broken.or(false)?,
        })
    }

    fn over(
        &self,
        material: &mut Material<'_>,
        report: &mut Report<'_>,
    ) -> Option<(Box<Over>, Phrasing)> {
        let progression = self.progression?;
        let made = over(material, self.text, self.numbers, progression, report);
        made.map(|(over, phrasing)| (Box::new(over), phrasing))
    }

    fn exercise(&self, kind: ExerciseKind) -> Option<Exercise> {
        let (text, numbers, setting) = (self.text, self.numbers, self.setting);
        let own_keys = match &text.keys {
            Saying::Unsaid => None,
            said => Some(said.said()?.value.keys(setting.keys?)),
        };
        let scale = match kind.over() {
            Some(_) => self.progression?.home,
            None => numbers.scale,
        };
        Some(Exercise {
            kind,
            only_for: self.only_for.clone(),
            heading: text.heading.maybe().ok()?,
            text: text.text.clone()?,
            words: text.words.or(Vec::new())?,
            scale,
            chord: text.chord.maybe().ok()?,
            chord_symbols: shows_chords(text, setting)?,
            level: text.level.maybe().ok()?,
            keys: own_keys,
            tempo: text.tempo.maybe().ok()?,
            labels: text.labels.maybe().ok()?,
            dynamic: text.dynamic.maybe().ok()?,
            breath: text.breath.maybe().ok()?,
            given: given(text).ok()?,
            hide: None,
        })
    }
}
