//! The tuning note, and every key's frequency in equal temperament.
// Samples need frequencies, and a frequency is no whole number.
#![allow(clippy::float_arithmetic)]

/// The A above middle C, in hertz.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tuning {
    hertz: u16,
}

impl Default for Tuning {
    fn default() -> Tuning {
        Tuning { hertz: 440 }
    }
}

impl Tuning {
    /// From whole hertz, 392 to 494: a whole step below and above 440 (ISO
    /// 16). None for others.
    pub const fn new(hertz: u16) -> Option<Tuning> {
        if hertz >= 392 && hertz <= 494 {
            Some(Tuning { hertz })
        } else {
            None
        }
    }

    /// The A above middle C, in hertz.
    pub const fn hertz(self) -> u16 {
        self.hertz
    }

    /// A MIDI key's frequency in equal temperament; key 69 is the A.
    pub(crate) fn frequency(self, key: u8) -> f64 {
        f64::from(self.hertz) * ((f64::from(key) - 69.0) / 12.0).exp2()
    }

    /// How a MIDI channel is tuned: whole semitones as registered parameter 2
    /// says them (64 is none), and the rest as parameter 1 does (8,192 is
    /// none, a semitone has 8,192 steps). None at 440, where nothing need be
    /// said. MIDI 1.0, registered parameters: master coarse and fine tuning.
    pub(crate) fn channel_tuning(self) -> Option<(u8, u16)> {
        if self == Tuning::default() {
            return None;
        }
        let semitones = 12.0 * (f64::from(self.hertz) / 440.0).log2();
        let whole = semitones.round();
        let fine = (8_192.0 + (semitones - whole) * 8_192.0).round();
        Some(((64.0 + whole) as u8, fine as u16))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frequencies() {
        // Equal temperament at A = 440, common practice.
        let check = |key, expected: f64| {
            let frequency = Tuning::default().frequency(key);
            assert!((frequency - expected).abs() < 0.005, "{key}: {frequency}");
        };
        check(69, 440.0);
        check(60, 261.63);
        check(21, 27.5);
        check(108, 4_186.01);
    }

    #[test]
    fn channels_are_tuned_by_semitones_and_the_rest() {
        let check = |hertz, expected: Option<(u8, u16)>| {
            assert_eq!(
                Tuning::new(hertz).unwrap().channel_tuning(),
                expected,
                "{hertz}"
            );
        };
        check(440, None);
        check(442, Some((64, 8_835))); // 7.85 cents
        check(415, Some((63, 8_088))); // −101.27 cents
        check(466, Some((65, 8_142))); // 99.39 cents
        check(494, Some((66, 8_226))); // 200.4 cents
        assert_eq!((Tuning::new(391), Tuning::new(495)), (None, None));
    }
}
