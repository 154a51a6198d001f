//! Composing many sheets at once, and handing them on in their order.

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use rayon::prelude::*;

use crate::stop::{Stop, Stopped};

/// So many sheets wait for their turn at most; enough to keep every core
/// busy, few enough to hold in memory.
const BATCH: usize = 256;

/// Composes the sheets on all cores, makes something of each there, and
/// gives the results to `take` in the order of the plans. `make` gets a
/// buffer that its thread used before; it is empty.
///
/// # Errors
/// The first that `make` or `take` gives, or that the run was stopped.
pub fn in_order<T: Send>(
    composer: &Composer<'_>,
    plans: &[SheetPlan],
    stop: &Stop,
    make: impl Fn(&SheetPlan, Result<Sheet, LeftOut>, &mut Vec<u8>) -> anyhow::Result<T> + Sync,
    mut take: impl FnMut(&SheetPlan, T) -> anyhow::Result<()>,
) -> anyhow::Result<()> {
    for batch in plans.chunks(BATCH) {
        let one = |buffer: &mut Vec<u8>, plan: &SheetPlan| {
            if stop.is_asked() {
                return Err(Stopped.into());
            }
            buffer.clear();
            make(plan, composer.compose(plan), buffer)
        };
        let made: Vec<T> = batch
            .par_iter()
            .map_init(Vec::new, one)
            .collect::<anyhow::Result<_>>()?;
        for (plan, thing) in batch.iter().zip(made) {
            take(plan, thing)?;
        }
    }
    Ok(())
}
