//! What is in store in a lesson's sheets, looked through before anything is
//! written.

use etude::{Composer, LeftOut, Outcome, Report, Sheet, SheetPlan};
use theory::{Level, Range};

use crate::error::CopyError;
use crate::sheets::in_order;
use crate::stop::Stop;

/// A lesson's sheets, looked through.
#[derive(Debug, Clone)]
pub struct Survey {
    /// Each sheet in the lesson's order, or why it is left out.
    pub sheets: Vec<Outcome>,
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
            Ok(sheet.map(|sheet| sheet.report.clone()))
        };
        in_order(composer, composer.plans(), stop, make, |plan, sheet| {
            sheets.push((*plan, sheet));
            Ok(())
        })?;
        Ok(Survey { sheets })
    }

    /// The sheets that can be made; of one player, by its place, or of all.
    pub fn made(&self, player: Option<usize>) -> impl Iterator<Item = (&SheetPlan, &Report)> {
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
        let holds = |sheet: &Report| range.holds(sheet.lowest) && range.holds(sheet.highest);
        let (inside, outside): (Vec<_>, Vec<_>) =
            self.made(Some(player)).partition(|(_, sheet)| holds(sheet));
        Some(BeginnerReach {
            range,
            inside: inside.into_iter().map(|(plan, _)| *plan).collect(),
            outside: outside.len(),
        })
    }
}
