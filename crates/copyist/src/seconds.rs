//! How long a sheet takes to play.

use score::{Score, TempoMark};

/// Seconds from its first note to its last bar line, begun ones counted, at the
/// tempos that are printed, of a ladder the slowest; none before a tempo is
/// said.
pub fn seconds(score: &Score) -> Option<u64> {
    let mut tempo: Option<TempoMark> = None;
    let mut nanoseconds: u128 = 0;
    for measure in &score.part.measures {
        tempo = measure.tempo().or(tempo);
        // Quarters a minute, as a fraction whose parts are small.
        let pace = tempo?.quarters_per_minute();
        let [up, down] = [*pace.numer(), *pace.denom()].map(|part| u128::from(part.unsigned_abs()));
        let ticks = u128::from(measure.length()) * down;
        let in_a_minute = u128::from(score.divisions) * up;
        nanoseconds += ticks * 60_000_000_000 / in_a_minute.max(1);
    }
    u64::try_from(nanoseconds.div_ceil(1_000_000_000)).ok()
}

#[cfg(test)]
mod tests {
    use etude::Composer;

    use super::*;

    /// Eight bars of 4/4 at 96 are 20 s, of 6/8 at 60 dotted quarters 16 s.
    #[test]
    fn at_the_printed_tempo() {
        let check = |head: &str, meter: &str, a_bar: Option<u64>| {
            let text = format!(
                "title = \"A\"\ninstruments = [\"flute\"]\n{head}\n[scale]\nname = \"major\"\n[figure]\nmeter = \"{meter}\"\nmoves = \"start, step up\"\n"
            );
            let lesson = lesson_text::read(&text, "a").unwrap();
            let composer = Composer::new(&lesson).unwrap();
            let sheet = composer.compose(&composer.plans()[0]).unwrap();
            let bars = u64::from(sheet.report.bars);
            let expected = a_bar.map(|milliseconds| (bars * milliseconds).div_ceil(1000));
            assert_eq!(seconds(&sheet.score), expected, "{head} {meter}");
        };
        check("tempo = 96", "4/4", Some(2500));
        check("tempo = 60", "6/8", Some(2000));
        check(
            "tempo = { from = 120, to = 160, by = 10 }",
            "3/4",
            Some(1500),
        );
        check("", "4/4", None);
    }
}
