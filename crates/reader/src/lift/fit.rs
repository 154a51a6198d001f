//! The scale that fits a phrase best: the fewest notes that only lead to
//! others, the fewest scale notes that the chord or the key doesn't know, a
//! likely root, a usual scale; one of fewer notes if all of them sound. Of
//! scales alike the one with seven notes or with none unused, then the one
//! listed first.

use lesson::Phrase;
use theory::{Form, Ladder, Pitch, PitchName, Rung, Scale};

use crate::lift::LiftScale;
use crate::lift::evidence::{Evidence, classes};
use crate::lift::ornament::{Step, steps};
use crate::lift::usual::is_usual;

/// What it costs that a note only leads: one that leads once is borrowed, one
/// that comes again belongs to the scale.
const LEADING: u32 = 2;
/// That a scale is none of the usual ones.
const UNUSUAL: u32 = 1;
/// That it isn't one of fewer or more than seven notes, all of which sound.
const NOT_ALL: u32 = 2;

/// A phrase on a scale.
#[derive(Debug)]
pub(crate) struct OnScale {
    pub scale: Scale,
    pub root: PitchName,
    /// The phrase's notes, in order.
    pub steps: Vec<Step>,
    /// How many of them are not the scale's own.
    pub borrowed: usize,
    /// The chord that the phrase begins under.
    pub chord: Option<theory::ChordSymbol>,
    /// Whether only the scale of all half steps holds the phrase.
    pub is_last_resort: bool,
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

/// The best-fitting scale, or the phrase on the one asked for; none if it
/// doesn't go on that.
pub(crate) fn best(phrase: &Phrase, asked: Option<&LiftScale>) -> Option<OnScale> {
    let evidence = Evidence::of(phrase);
    let pitches: Vec<Pitch> = phrase.notes.iter().filter_map(|note| note.pitch).collect();
    let chord = evidence.chord.clone();
    let found = |scale: Scale, root: PitchName, (steps, borrowed), is_last_resort| OnScale {
        scale,
        root,
        steps,
        borrowed,
        chord: chord.clone(),
        is_last_resort,
    };
    if let Some(LiftScale { scale, root }) = asked {
        let roots = match root {
            Some(root) => vec![(*root, 0)],
            None => {
                // A chord's root comes first, but others may fit.
                let mut roots = evidence.roots(scale);
                let others = evidence.all_roots(scale).into_iter();
                roots.extend(others.map(|(root, doubt)| (root, doubt + 4)));
                roots
            }
        };
        return roots
            .into_iter()
            .filter_map(|(root, doubt)| {
                let steps = on(scale, root, &pitches)?;
                let cost = cost(&evidence, scale, root, &pitches, steps.1);
                Some((cost + doubt, root, steps))
            })
            .min_by_key(|(cost, _, _)| *cost)
            .map(|(_, root, steps)| found(scale.clone(), root, steps, false));
    }
    let catalogue = Scale::catalogue();
    let is_chromatic = |scale: &Scale| scale.degrees.len() == 12;
    let mut best: Option<((u32, bool), OnScale)> = None;
    let candidates = catalogue
        .iter()
        .filter(|scale| !is_chromatic(scale) && scale.descending.is_none());
    for scale in candidates {
        for (root, doubt) in evidence.roots(scale) {
            let Some(steps) = on(scale, root, &pitches) else {
                continue;
            };
            let odd = scale.degrees.len() != 7 && !sounds_all(scale, root, &pitches);
            let cost = cost(&evidence, scale, root, &pitches, steps.1);
            let key = (cost + doubt, odd);
            if best.as_ref().is_none_or(|(least, _)| key < *least) {
                best = Some((key, found(scale.clone(), root, steps, false)));
            }
        }
    }
    let last_resort = || {
        let scale = catalogue.iter().find(|scale| is_chromatic(scale))?;
        let (root, _) = evidence
            .roots(scale)
            .into_iter()
            .min_by_key(|(_, doubt)| *doubt)?;
        let steps = on(scale, root, &pitches)?;
        Some(found(scale.clone(), root, steps, true))
    };
    best.map(|(_, on)| on).or_else(last_resort)
}

fn cost(
    evidence: &Evidence,
    scale: &Scale,
    root: PitchName,
    pitches: &[Pitch],
    borrowed: usize,
) -> u32 {
    let usual = scale.id.as_deref().is_some_and(is_usual);
    let far = u32::from(!usual && !evidence.suits_chord(scale)) * UNUSUAL;
    let all = scale.degrees.len() != 7 && usual && sounds_all(scale, root, pitches);
    let strange = match evidence.strange(scale, root) {
        // A phrase of just these notes says more than chord and key.
        strange if all && borrowed == 0 => strange.min(1),
        strange => strange,
    };
    LEADING * u32::try_from(borrowed).unwrap_or(u32::MAX / 8)
        + strange
        + far
        + u32::from(!all) * NOT_ALL
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
