//! From ticks to time, exactly as a file's tempos say.

/// A performance's tempos, ready to be asked.
#[derive(Debug)]
pub(crate) struct Clock {
    per_quarter: u64,
    /// From a tick on: what has gone by until then, in microseconds times
    /// ticks to the quarter, and the microseconds a quarter takes.
    tempos: Vec<(u32, u128, u32)>,
}

/// Before a file says a tempo (Standard MIDI Files 1.0: 120 a minute).
const UNSAID: u32 = 500_000;

impl Clock {
    /// Of so many ticks to the quarter, and the microseconds that one takes
    /// from each tick on.
    pub(crate) fn of(per_quarter: u16, changes: &[(u32, u32)]) -> Clock {
        let mut tempos = vec![(0, 0, UNSAID)];
        for (from, micros) in changes {
            let (since, gone, last) = tempos.last().copied().unwrap_or_default();
            let gone = gone + u128::from(from.saturating_sub(since)) * u128::from(last);
            tempos.push((*from, gone, *micros));
        }
        Clock {
            per_quarter: u64::from(per_quarter.max(1)),
            tempos,
        }
    }

    /// Microseconds from the beginning, rounded down.
    pub(crate) fn microseconds(&self, tick: u32) -> u64 {
        let micros = self.fine(tick) / u128::from(self.per_quarter);
        micros.min(u128::from(u64::MAX)) as u64
    }

    /// The nearest sample, at so many a second.
    pub(crate) fn sample(&self, tick: u32, rate: u32) -> u64 {
        let second = 1_000_000 * u128::from(self.per_quarter);
        let samples = (self.fine(tick) * u128::from(rate) + second / 2) / second;
        samples.min(u128::from(u64::MAX)) as u64
    }

    /// Microseconds times ticks to the quarter.
    fn fine(&self, tick: u32) -> u128 {
        let after = self.tempos.partition_point(|(from, ..)| *from <= tick);
        let (from, gone, micros) = after
            .checked_sub(1)
            .and_then(|place| self.tempos.get(place))
            .copied()
            .unwrap_or_default();
        gone + u128::from(tick - from) * u128::from(micros)
    }
}
