//! Composing many sheets at once, and handing them on in their order.

use std::cell::Cell;

use etude::{Composer, LeftOut, Sheet, SheetBuffers, SheetPlan};
use rayon::prelude::*;

use crate::composing::unless_stopped;
use crate::error::CopyError;
use crate::stop::Stop;

/// So many sheets wait for their turn at most; enough to keep every core
/// busy, few enough to hold in memory.
const BATCH: usize = 256;

thread_local! {
    /// What the thread's last sheet was made of and written in. Taken while a
    /// sheet is made: should the thread begin another meanwhile, that gets its
    /// own.
    static BUFFERS: Cell<(SheetBuffers, Vec<u8>)> = const { Cell::new((SheetBuffers::new(), Vec::new())) };
}

/// Composes the sheets on all cores, makes something of each there, and
/// gives the results to `take` in the order of the plans. `make` gets a
/// buffer that its thread used before; it is empty. It never hears of a sheet
/// that was given up since someone asked to stop.
///
/// # Errors
/// The first that `make` or `take` gives, or that the run was stopped.
pub fn in_order<T: Send>(
    composer: &Composer<'_>,
    plans: &[SheetPlan],
    stop: &Stop,
    make: impl Fn(&SheetPlan, Result<&Sheet, LeftOut>, &mut Vec<u8>) -> Result<T, CopyError> + Sync,
    mut take: impl FnMut(&SheetPlan, T) -> Result<(), CopyError>,
) -> Result<(), CopyError> {
    for batch in plans.chunks(BATCH) {
        let one = |plan: &SheetPlan| {
            stop.check()?;
            let (mut spare, mut buffer) = BUFFERS.take();
            buffer.clear();
            let made = match unless_stopped(composer.compose_in(plan, &mut spare))? {
                Ok(sheet) => {
                    let made = make(plan, Ok(&sheet), &mut buffer);
                    spare.keep(sheet.score);
                    made
                }
                Err(left_out) => make(plan, Err(left_out), &mut buffer),
            };
            BUFFERS.set((spare, buffer));
            made
        };
        let made: Vec<T> = batch
            .par_iter()
            .map(one)
            .collect::<Result<_, CopyError>>()?;
        for (plan, thing) in batch.iter().zip(made) {
            take(plan, thing)?;
        }
    }
    Ok(())
}

/// The sheets that aren't left out, with their plans.
///
/// # Errors
/// That the run was stopped.
pub fn composed<'p>(
    composer: &Composer<'_>,
    plans: impl Iterator<Item = &'p SheetPlan>,
) -> Result<(Vec<SheetPlan>, Vec<Sheet>), CopyError> {
    let sheets = plans.filter_map(|plan| {
        let sheet = unless_stopped(composer.compose(plan)).map(Result::ok);
        Some(sheet.transpose()?.map(|sheet| (*plan, sheet)))
    });
    sheets.collect()
}
