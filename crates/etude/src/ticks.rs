//! Times in ticks, and as fractions of quarters.

use rhythm::{Fraction, Meter, MeterKind, Ticks};

/// The beats of a bar as they are counted to improvise on: unequal groups of
/// quarters are counted in quarters.
pub(crate) fn counted(meter: &Meter) -> Vec<Fraction> {
    let unit = meter.unit();
    if meter.kind() == MeterKind::Odd && unit >= Fraction::ONE {
        (0..i64::from(meter.upper())).map(|at| unit * at).collect()
    } else {
        meter.beats()
    }
}

/// The next bar line, or here.
pub(crate) fn up_to(time: Ticks, bar: Ticks) -> Ticks {
    let bar = bar.max(1);
    (time + bar - 1).div_euclid(bar) * bar
}

/// A time in quarters as ticks.
pub(crate) fn ticks(time: Fraction, per_quarter: u32) -> Ticks {
    (time * i64::from(per_quarter)).to_integer()
}

/// Ticks as a time in quarters.
pub(crate) fn quarters(time: Ticks, per_quarter: u32) -> Fraction {
    Fraction::new(time, i64::from(per_quarter))
}
