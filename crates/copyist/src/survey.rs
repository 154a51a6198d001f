//! What is in store in a lesson's sheets, looked through before anything is
//! written: what each comes to, and what may surprise whoever opens them.

use etude::{Composer, LeftOut, Report, Sheet, SheetPlan};
use score::{Element, Score};
use theory::{Level, Range, Signature};

use crate::error::CopyError;
use crate::sheets::in_order;
use crate::stop::Stop;

/// A lesson's sheets, looked through.
#[derive(Debug, Clone)]
pub struct Survey {
    /// Each sheet in the lesson's order, or why it is left out.
    pub sheets: Vec<(SheetPlan, Result<SheetSurvey, LeftOut>)>,
}

/// What one sheet comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetSurvey {
    /// What its composer says of it.
    pub report: Report,
    /// Notes with a double accidental.
    pub doubles: u32,
    /// E sharps, B sharps, C flats and F flats that the signature hasn't.
    pub white_keys: u32,
}

/// How a player's sheets lie to what beginners on the same instrument reach.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BeginnerReach {
    /// The beginners' written range.
    pub range: Range,
    /// The sheets within it.
    pub inside: Vec<SheetPlan>,
    /// How many go beyond it.
    pub outside: usize,
}

impl Survey {
    /// Composes every sheet of a lesson, on all cores.
    ///
    /// # Errors
    /// That it was asked to stop.
    pub fn of(composer: &Composer<'_>, stop: &Stop) -> Result<Survey, CopyError> {
        let mut sheets = Vec::with_capacity(composer.plans().len());
        let make = |_: &SheetPlan, sheet: Result<&Sheet, LeftOut>, _: &mut Vec<u8>| {
            Ok(sheet.map(SheetSurvey::of))
        };
        in_order(composer, composer.plans(), stop, make, |plan, sheet| {
            sheets.push((*plan, sheet));
            Ok(())
        })?;
        Ok(Survey { sheets })
    }

    /// The sheets that can be made; of one player, by its place, or of all.
    pub fn made(&self, player: Option<usize>) -> impl Iterator<Item = (&SheetPlan, &SheetSurvey)> {
        let made = self
            .sheets
            .iter()
            .filter_map(|(plan, sheet)| Some((plan, sheet.as_ref().ok()?)));
        made.filter(move |(plan, _)| player.is_none_or(|player| plan.player == player))
    }

    /// The sheets that are left out; of one player, by its place, or of all.
    pub fn left_out(&self, player: Option<usize>) -> impl Iterator<Item = (&SheetPlan, &LeftOut)> {
        let left_out = self
            .sheets
            .iter()
            .filter_map(|(plan, sheet)| Some((plan, sheet.as_ref().err()?)));
        left_out.filter(move |(plan, _)| player.is_none_or(|player| plan.player == player))
    }

    /// Which of a player's sheets a beginner could also play; none where the
    /// player is one.
    pub fn beginner_reach(&self, composer: &Composer<'_>, player: usize) -> Option<BeginnerReach> {
        let own = composer.lesson().players.get(player)?;
        if own.level == Level::Beginner {
            return None;
        }
        let range = own.instrument.range(Level::Beginner);
        let holds = |sheet: &SheetSurvey| {
            range.holds(sheet.report.lowest) && range.holds(sheet.report.highest)
        };
        let (inside, outside): (Vec<_>, Vec<_>) =
            self.made(Some(player)).partition(|(_, sheet)| holds(sheet));
        Some(BeginnerReach {
            range,
            inside: inside.into_iter().map(|(plan, _)| *plan).collect(),
            outside: outside.len(),
        })
    }
}

impl SheetSurvey {
    fn of(sheet: &Sheet) -> SheetSurvey {
        let (doubles, white_keys) = hard_names(&sheet.score);
        SheetSurvey {
            report: sheet.report.clone(),
            doubles,
            white_keys,
        }
    }
}

/// Notes with a double accidental, and white keys named with a sign that the
/// signature hasn't; tied ones once.
fn hard_names(score: &Score) -> (u32, u32) {
    let (mut doubles, mut white_keys) = (0, 0);
    let mut signature = Signature::default();
    for measure in &score.part.measures {
        signature = measure.key.map_or(signature, |key| key.signature);
        for element in &measure.elements {
            let Element::Note(note) = element else {
                continue;
            };
            let name = note.pitch.name();
            if note.tied_from {
                continue;
            }
            doubles += u32::from(name.is_double());
            white_keys += u32::from(name.white_twin().is_some() && !signature.has(name));
        }
    }
    (doubles, white_keys)
}
