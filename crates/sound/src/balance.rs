//! How loud each role is to be: the line over what accompanies it, in the band
//! nobody buried, the click under it, and all together as loud as a track
//! should be.
#![allow(clippy::float_arithmetic)]

use std::ops::RangeInclusive;

use crate::loudness::loudness;
use crate::voice::Stem;
use crate::{Levels, Role};

/// LUFS of a track with everything in it.
const LOUD: f64 = -16.0;
/// LU by which the line stands over all that accompanies it.
const LINE_OVER: f64 = 5.0;
/// LU by which the click lies under the band.
const CLICK_UNDER: f64 = 2.0;
/// LU by which chords and drums lie under the bass: at least so far, so that it
/// is heard, and at most, so that they are. Between these a style plays as
/// softly as it does.
const CHORDS_UNDER: RangeInclusive<f64> = 2.0..=5.0;
const DRUMS_UNDER: RangeInclusive<f64> = 3.0..=6.0;

/// The highest true peak, one decibel under full and a hair, of 16 bits.
const HIGHEST: f32 = 0.885 * 32_767.0;

/// The gain of each role. What one sheet's forms share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    line: f32,
    others: f32,
    /// Beside the others.
    chords: f32,
    drums: f32,
    clicks: f32,
    levels: Levels,
}

impl Balance {
    /// From the mean squares of tenths of a second, by stems.
    pub(crate) fn of(stems: &[Stem], quarters: &[Vec<f32>], levels: Levels) -> Balance {
        let of = |gain: &dyn Fn(&Stem) -> f64| -> Option<f64> {
            let sums: Vec<f64> = quarters
                .iter()
                .map(|means| {
                    let sums = stems.iter().zip(means).map(|(stem, mean)| {
                        gain(stem) * gain(stem) * width(stem) * f64::from(*mean)
                    });
                    sums.sum()
                })
                .collect();
            loudness(&sums)
        };
        let only = |roles: &'static [Role]| {
            move |stem: &Stem| {
                let heard = roles.contains(&stem.role);
                if heard { f64::from(stem.gain) } else { 0.0 }
            }
        };
        let line = of(&only(&[Role::Line]));
        let bass = of(&only(&[Role::Bass]));
        let within = |heard: Option<f64>, window: &RangeInclusive<f64>| match (bass, heard) {
            (Some(bass), Some(heard)) => {
                let under = bass - heard;
                10f64.powf((under - under.clamp(*window.start(), *window.end())) / 20.0)
            }
            _ => 1.0,
        };
        let chords = within(of(&only(&[Role::Chords])), &CHORDS_UNDER);
        let drums = within(of(&only(&[Role::Drums])), &DRUMS_UNDER);
        let mixed = |stem: &Stem, line: f64, others: f64, clicks: f64| {
            let gain = match stem.role {
                Role::Line => line,
                Role::Count | Role::Click => clicks,
                Role::Chords => others * chords,
                Role::Drums => others * drums,
                Role::Drone | Role::Bass => others,
            };
            gain * f64::from(stem.gain)
        };
        let others = of(&|stem: &Stem| mixed(stem, 0.0, 1.0, 0.0));
        let clicks = of(&only(&[Role::Count, Role::Click]));
        // in LU: what the line is brought to, and the others beside it
        let line_at = line.or(others.map(|others| others + LINE_OVER));
        let decibels = |from: Option<f64>, to: Option<f64>| match (from, to) {
            (Some(from), Some(to)) => 10f64.powf((to - from) / 20.0),
            _ => 1.0,
        };
        let band_at = line_at.map(|line| line - LINE_OVER);
        let others_gain = decibels(others, band_at);
        let clicks_gain = decibels(clicks, band_at.map(|band| band - CLICK_UNDER));
        // band and click together are louder than either
        let together = of(&|stem: &Stem| mixed(stem, 0.0, others_gain, clicks_gain));
        let trim = decibels(together, band_at);
        let (others_gain, clicks_gain) = (trim * others_gain, trim * clicks_gain);
        let level = |role: Role| f64::from(levels.of(role)) / 100.0;
        let whole =
            of(&|stem: &Stem| level(stem.role) * mixed(stem, 1.0, others_gain, clicks_gain));
        // 16 bits hold 32,767
        let all = 32_767.0 * decibels(whole, Some(LOUD));
        Balance {
            line: all as f32,
            others: (all * others_gain) as f32,
            chords: chords as f32,
            drums: drums as f32,
            clicks: (all * clicks_gain) as f32,
            levels,
        }
    }

    /// Makes all quieter if a peak would be too high.
    pub(crate) fn keep_under(&mut self, peak: f32) {
        let gain = (HIGHEST / peak.max(1.0)).min(1.0);
        for one in [&mut self.line, &mut self.others, &mut self.clicks] {
            *one *= gain;
        }
    }

    /// What a stem is to be multiplied by.
    pub(crate) fn gain(&self, stem: &Stem) -> f32 {
        let gain = match stem.role {
            Role::Line => self.line,
            Role::Count | Role::Click => self.clicks,
            Role::Chords => self.others * self.chords,
            Role::Drums => self.others * self.drums,
            Role::Drone | Role::Bass => self.others,
        };
        gain * stem.gain * f32::from(self.levels.of(stem.role)) / 100.0
    }
}

/// What a stem's energy becomes in both channels together.
fn width(stem: &Stem) -> f64 {
    stem.place.map_or(1.0, |place| {
        let (left, right) = (1.0 - place.max(0.0), 1.0 + place.min(0.0));
        f64::from(left * left + right * right)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line, a band and a click, each as loud throughout as said.
    fn check(heard: &[(Role, f32)]) {
        let stems: Vec<Stem> = heard
            .iter()
            .map(|(role, _)| Stem {
                role: *role,
                place: Some(0.0),
                gain: 1.0,
            })
            .collect();
        let quarters = vec![heard.iter().map(|(_, mean)| *mean).collect(); 50];
        let balance = Balance::of(&stems, &quarters, Levels::default());
        let power = |roles: &dyn Fn(Role) -> bool| -> f64 {
            let heard = stems.iter().zip(heard).filter(|(stem, _)| roles(stem.role));
            let powers = heard.map(|(stem, (_, mean))| {
                let gain = f64::from(balance.gain(stem));
                gain * gain * f64::from(*mean)
            });
            powers.sum()
        };
        let line = power(&|role| role == Role::Line);
        let rest = power(&|role| role != Role::Line);
        let over = 10.0 * (line / rest).log10();
        assert!((over - LINE_OVER).abs() < 0.01, "{over}");
        let click = power(&|role| role == Role::Click);
        let band = rest - click;
        if click > 0.0 && band > 0.0 {
            let under = 10.0 * (band / click).log10();
            assert!((under - CLICK_UNDER).abs() < 0.01, "{under}");
        }
        let bass = power(&|role| role == Role::Bass);
        for (role, window) in [(Role::Chords, CHORDS_UNDER), (Role::Drums, DRUMS_UNDER)] {
            let mean = |role: Role| heard.iter().find(|(of, _)| *of == role);
            if let (Some((_, from)), Some((_, bass_from))) = (mean(role), mean(Role::Bass)) {
                let under = 10.0 * (bass / power(&|of| of == role)).log10();
                let before = 10.0 * f64::from(bass_from / from).log10();
                let wanted = before.clamp(*window.start(), *window.end());
                assert!((under - wanted).abs() < 0.01, "{role:?} {under}");
            }
        }
    }

    #[test]
    fn the_line_is_as_far_over_whatever_accompanies_it() {
        check(&[(Role::Line, 0.01), (Role::Bass, 0.3)]);
        check(&[(Role::Line, 0.5), (Role::Click, 0.01)]);
        check(&[(Role::Line, 0.02), (Role::Drone, 0.01), (Role::Click, 0.2)]);
        check(&[
            (Role::Line, 0.02),
            (Role::Chords, 0.01),
            (Role::Bass, 0.02),
            (Role::Drums, 0.03),
            (Role::Click, 0.001),
        ]);
        // one as it should be, one buried
        check(&[
            (Role::Line, 0.02),
            (Role::Chords, 0.01),
            (Role::Bass, 0.02),
            (Role::Drums, 0.000_02),
        ]);
    }
}
