//! The scales that fit a phrase, best first: the fewest notes that only lead
//! to others, the fewest scale notes that the chord or the key doesn't know, a
//! likely root, a usual scale, names as the phrase has them; one of fewer
//! notes if all of them sound. Of scales alike the one with seven notes or
//! with none unused, then the one listed first. What no scale of its key
//! holds is borrowed into it.

use lesson::Phrase;
use theory::{Degree, Form, Ladder, Pitch, PitchName, Rung, Scale};

use crate::borrowed::with_borrowed;
use crate::evidence::{Evidence, classes};
use crate::ornament::{Step, steps};
use crate::request::LiftScale;
use crate::usual::is_usual;

/// What it costs that a note only leads: one that leads once is borrowed, one
/// that comes again belongs to the scale.
const LEADING: u32 = 2;
/// The most that a note of the twelve costs which only ever leads, where a
/// key is stated: it stays an ornament however often it comes.
const LEADING_IN_KEY: u32 = 3;
/// That a note is borrowed into the scale.
const BORROWED: u32 = 4;
/// That a scale is none of the usual ones; that it has more than seven notes
/// though a key is stated.
const UNUSUAL: u32 = 1;
const BEYOND_KEY: u32 = 4;
/// That it isn't one of fewer or more than seven notes, all of which sound.
const NOT_ALL: u32 = 2;
/// That what leads has another name than an ornament has.
const MISNAMED: u32 = 3;
/// That another root than the chord's was asked for.
const NOT_THE_CHORD: u32 = 4;

/// A phrase on a scale.
#[derive(Debug, Clone)]
pub(crate) struct OnScale {
    pub scale: Scale,
    pub root: PitchName,
    /// The scale that notes were borrowed into, and which.
    pub home: Option<(Scale, Vec<Degree>)>,
    /// The phrase's notes, in order.
    pub steps: Vec<Step>,
    /// How many of them are not the scale's own.
    pub borrowed: usize,
    /// The chord that the phrase stands under.
    pub chord: Option<theory::ChordSymbol>,
}

impl OnScale {
    /// The height of the root that the rungs are counted from, in semitones.
    pub fn root_height(&self, phrase: &Phrase) -> Option<i16> {
        let pitches = phrase.notes.iter().filter_map(|note| note.pitch);
        pitches
            .zip(&self.steps)
            .find_map(|(pitch, step)| match step {
                Step::Rung(rung) => {
                    let above = Ladder::new(&self.scale).interval(Rung(*rung), Form::Rising);
                    Some(pitch.midi() - above.semitones())
                }
                Step::Above | Step::Below => None,
            })
    }
}

/// The best-fitting scales, best first, or the phrase on the one asked for;
/// none if it doesn't go on that.
pub(crate) fn best(phrase: &Phrase, asked: Option<&LiftScale>) -> Vec<OnScale> {
    let mut fitting = Fitting {
        evidence: Evidence::of(phrase),
        pitches: phrase.notes.iter().filter_map(|note| note.pitch).collect(),
        found: Vec::new(),
    };
    match asked {
        Some(asked) => fitting.asked(asked),
        None => {
            fitting.catalogue();
            fitting.homes();
        }
    }
    // A stable order: of equals the one listed first.
    fitting.found.sort_by_key(|(cost, _)| *cost);
    let found = fitting.found.into_iter();
    found.map(|(_, on)| on).collect()
}

/// What speaks against a scale, and whether it is an odd one.
type Cost = (u32, bool);

struct Fitting {
    evidence: Evidence,
    pitches: Vec<Pitch>,
    found: Vec<(Cost, OnScale)>,
}

impl Fitting {
    fn asked(&mut self, LiftScale { scale, root }: &LiftScale) {
        let roots = match root {
            Some(root) => vec![(*root, 0)],
            None => {
                // A chord's root comes first, but others may fit.
                let mut roots = self.evidence.roots(scale);
                let others = self.evidence.all_roots(scale).into_iter();
                roots.extend(others.map(|(root, doubt)| (root, doubt + NOT_THE_CHORD)));
                roots
            }
        };
        for (root, doubt) in roots {
            self.put(scale, root, doubt);
        }
    }

    /// Every scale that a phrase can be lifted on without borrowing.
    fn catalogue(&mut self) {
        let has_all_notes = |scale: &Scale| scale.degrees.len() == 12;
        for scale in Scale::catalogue() {
            if has_all_notes(&scale) || scale.descending.is_some() {
                continue;
            }
            for (root, doubt) in self.evidence.roots(&scale) {
                self.put(&scale, root, doubt);
            }
        }
    }

    /// The key's own scale with what the phrase borrows.
    fn homes(&mut self) {
        for (root, home, doubt) in self.evidence.homes() {
            for (scale, borrowed) in with_borrowed(&home, root, &self.pitches) {
                let Some((steps, leading)) = on(&scale, root, &self.pitches) else {
                    continue;
                };
                let count = u32::try_from(borrowed.len()).unwrap_or(u32::MAX / 8);
                let cost = self.leads(&scale, root, &steps) + NOT_ALL + BORROWED * count + doubt;
                let on = OnScale {
                    home: Some((home.clone(), borrowed)),
                    ..self.on_scale(&scale, root, steps, leading)
                };
                self.found.push(((cost, true), on));
            }
        }
    }

    fn put(&mut self, scale: &Scale, root: PitchName, doubt: u32) {
        let Some((steps, leading)) = on(scale, root, &self.pitches) else {
            return;
        };
        let odd = scale.degrees.len() != 7 && !sounds_all(scale, root, &self.pitches);
        let cost = self.cost(scale, root, &steps, leading) + doubt;
        let on = self.on_scale(scale, root, steps, leading);
        self.found.push(((cost, odd), on));
    }

    fn on_scale(
        &self,
        scale: &Scale,
        root: PitchName,
        steps: Vec<Step>,
        borrowed: usize,
    ) -> OnScale {
        OnScale {
            scale: scale.clone(),
            root,
            home: None,
            steps,
            borrowed,
            chord: self.evidence.chord.clone(),
        }
    }

    fn cost(&self, scale: &Scale, root: PitchName, steps: &[Step], leading: usize) -> u32 {
        let (evidence, pitches) = (&self.evidence, &self.pitches);
        let usual = scale.id.as_deref().is_some_and(is_usual);
        let far = u32::from(!usual && !evidence.suits_chord(scale)) * UNUSUAL
            + u32::from(scale.degrees.len() > 7 && evidence.is_plain()) * BEYOND_KEY;
        // A key is heard in more notes than seven before it is a scale of more.
        let may_be_all = match scale.degrees.len() {
            7 => false,
            notes => notes < 7 || !evidence.is_plain(),
        };
        let all = may_be_all && usual && sounds_all(scale, root, pitches);
        let strange = match evidence.strange(scale, root) {
            // A phrase of just these notes says more than chord and key.
            strange if all && leading == 0 => strange.min(1),
            strange => strange,
        };
        self.leads(scale, root, steps) + strange + far + u32::from(!all) * NOT_ALL
    }

    /// What the notes cost that only lead to others, and those that the scale
    /// names otherwise.
    fn leads(&self, scale: &Scale, root: PitchName, steps: &[Step]) -> u32 {
        let own = classes(scale, root);
        let mut leading = [0u32; 12];
        let mut misnamed = 0;
        for (at, (pitch, step)) in self.pitches.iter().zip(steps).enumerate() {
            let class = usize::from(pitch.name().class());
            match step {
                Step::Rung(_) => {}
                Step::Above | Step::Below => {
                    leading[class] += u32::from(!own[class]);
                    let target = self.target(steps, at);
                    let side = if *step == Step::Above { 1 } else { -1 };
                    let named = target.is_some_and(|target| (*pitch - target).steps() == side);
                    misnamed += u32::from(!named && !own[class]) * MISNAMED;
                }
            }
        }
        if scale.degrees.len() == 7 {
            let degree = |name: PitchName| {
                scale
                    .degrees
                    .iter()
                    .any(|degree| root + degree.interval() == name)
            };
            let mut told = [false; 12];
            for pitch in &self.pitches {
                let class = usize::from(pitch.name().class());
                if own[class] && !degree(pitch.name()) && !std::mem::replace(&mut told[class], true)
                {
                    misnamed += 1;
                }
            }
        }
        let most = if self.evidence.is_plain() {
            LEADING_IN_KEY
        } else {
            u32::MAX
        };
        let leading: u32 = leading
            .iter()
            .map(|times| (LEADING * times).min(most))
            .sum();
        leading + misnamed
    }

    /// The pitch of the rung that an ornament leads to.
    fn target(&self, steps: &[Step], at: usize) -> Option<Pitch> {
        let ahead = steps.iter().zip(&self.pitches).skip(at);
        ahead
            .filter(|(step, _)| matches!(step, Step::Rung(_)))
            .map(|(_, pitch)| *pitch)
            .next()
    }
}

fn sounds_all(scale: &Scale, root: PitchName, pitches: &[Pitch]) -> bool {
    let classes = classes(scale, root);
    (0..12u8).all(|class| {
        !classes[usize::from(class)] || pitches.iter().any(|pitch| pitch.name().class() == class)
    })
}

/// The notes on a scale, rungs counted from the root at or below the first of
/// them, and how many are not the scale's own.
fn on(scale: &Scale, root: PitchName, pitches: &[Pitch]) -> Option<(Vec<Step>, usize)> {
    let ladder = Ladder::new(scale);
    let zero = root.at(4).midi();
    let heights: Vec<i16> = pitches.iter().map(|pitch| pitch.midi()).collect();
    let degrees: Vec<i16> = (0..ladder.size())
        .map(|rung| ladder.interval(Rung(rung), Form::Rising).semitones())
        .collect();
    let rung = |height: &i16| {
        let above = height - zero;
        let within = above.rem_euclid(12);
        let place = degrees.iter().position(|tone| *tone == within)?;
        Some(i32::from(above.div_euclid(12)) * ladder.size() + i32::try_from(place).ok()?)
    };
    let rungs: Vec<Option<i32>> = heights.iter().map(rung).collect();
    let mut steps = steps(&heights, &rungs)?;
    let first = steps.iter().find_map(|step| match step {
        Step::Rung(rung) => Some(*rung),
        _ => None,
    })?;
    let root = first.div_euclid(ladder.size()) * ladder.size();
    for step in &mut steps {
        if let Step::Rung(rung) = step {
            *rung -= root;
        }
    }
    let borrowed = rungs.iter().filter(|rung| rung.is_none()).count();
    Some((steps, borrowed))
}
