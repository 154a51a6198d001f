//! How loud each role is to be: the line over what accompanies it, the click
//! under it, and all together as loud as a track should be.
#![allow(clippy::float_arithmetic)]

use crate::loudness::loudness;
use crate::voice::Stem;
use crate::{Levels, Role};

/// LUFS of a track with everything in it.
const LOUD: f64 = -16.0;
/// LU by which the line stands over all that accompanies it.
const LINE_OVER: f64 = 5.0;
/// LU by which the click lies under the band.
const CLICK_UNDER: f64 = 2.0;

/// The highest true peak, one decibel under full and a hair, of 16 bits.
const HIGHEST: f32 = 0.885 * 32_767.0;

/// The gain of each role. What one sheet's forms share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    line: f32,
    others: f32,
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
        let others = of(&only(&[Role::Chords, Role::Drone, Role::Bass, Role::Drums]));
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
        let together = of(&|stem: &Stem| {
            let gain = match stem.role {
                Role::Line => 0.0,
                Role::Count | Role::Click => clicks_gain,
                Role::Chords | Role::Drone | Role::Bass | Role::Drums => others_gain,
            };
            gain * f64::from(stem.gain)
        });
        let trim = decibels(together, band_at);
        let (others_gain, clicks_gain) = (trim * others_gain, trim * clicks_gain);
        let level = |role: Role| f64::from(levels.of(role)) / 100.0;
        let whole = of(&|stem: &Stem| {
            let gain = match stem.role {
                Role::Line => 1.0,
                Role::Count | Role::Click => clicks_gain,
                Role::Chords | Role::Drone | Role::Bass | Role::Drums => others_gain,
            };
            gain * level(stem.role) * f64::from(stem.gain)
        });
        // 16 bits hold 32,767
        let all = 32_767.0 * decibels(whole, Some(LOUD));
        Balance {
            line: all as f32,
            others: (all * others_gain) as f32,
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
            Role::Chords | Role::Drone | Role::Bass | Role::Drums => self.others,
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
    }
}
