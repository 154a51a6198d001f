//! The ladder: a scale laid out without end in both directions.

use std::ops::Add;

use crate::{Degree, Interval, Scale};

/// A place on a ladder: 0 is a root, 1 the next note up, −1 the next down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Rung(pub i32);

impl Add<i32> for Rung {
    type Output = Rung;
    fn add(self, steps: i32) -> Rung {
        Rung(self.0 + steps)
    }
}

/// Which form of a two-form scale is meant; the same notes in all others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Form {
    /// Going up.
    #[default]
    Rising,
    /// Coming down.
    Falling,
}

/// A scale without end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ladder {
    rising: Octave,
    falling: Octave,
}

/// An octave of rungs.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Octave {
    degrees: Vec<Degree>,
    /// From the root up to each: every note of every sheet asks for them.
    intervals: Vec<Interval>,
}

impl Octave {
    fn of(degrees: &[Degree]) -> Octave {
        Octave {
            degrees: degrees.to_vec(),
            intervals: degrees.iter().map(|degree| degree.interval()).collect(),
        }
    }
}

impl Ladder {
    /// The ladder of a scale.
    pub fn new(scale: &Scale) -> Ladder {
        let falling = scale.descending.as_ref().unwrap_or(&scale.degrees);
        Ladder {
            rising: Octave::of(&scale.degrees),
            falling: Octave::of(falling),
        }
    }

    /// Rungs to the octave.
    pub fn size(&self) -> i32 {
        self.rising.degrees.len() as i32
    }

    /// The degree of a rung.
    pub fn degree(&self, rung: Rung, form: Form) -> Degree {
        self.octave(form).degrees[rung.0.rem_euclid(self.size()) as usize]
    }

    /// The interval from rung 0 to a rung.
    pub fn interval(&self, rung: Rung, form: Form) -> Interval {
        let within = self.octave(form).intervals[rung.0.rem_euclid(self.size()) as usize];
        within + Interval::OCTAVE * self.octaves(rung)
    }

    /// Whole octaves from rung 0 down or up to the root under a rung. Beyond
    /// a hundred, far past all hearing, they are no longer counted.
    pub(crate) fn octaves(&self, rung: Rung) -> i16 {
        rung.0.div_euclid(self.size()).clamp(-100, 100) as i16
    }

    /// The first-octave rung of a degree said bare or exactly: a bare number
    /// is the scale's only note of that number, or the natural one where it
    /// has several; with an accidental it must match exactly. 8 and above
    /// count on from the next root.
    pub fn rung_of(&self, degree: Degree) -> Option<Rung> {
        let octaves = i32::from(degree.number.checked_sub(1)? / 7);
        let within = Degree::new((degree.number - 1) % 7 + 1, degree.alteration);
        let rising = self.degrees(Form::Rising);
        let exact = rising.iter().position(|&d| d == within);
        let place = exact.or_else(|| {
            let mut same = (0..rising.len()).filter(|&i| rising[i].number == within.number);
            let only = same.next().filter(|_| same.next().is_none());
            only.filter(|_| within.alteration == 0)
        })?;
        Some(Rung(place as i32 + octaves * self.size()))
    }

    pub(crate) fn degrees(&self, form: Form) -> &[Degree] {
        &self.octave(form).degrees
    }

    fn octave(&self, form: Form) -> &Octave {
        match form {
            Form::Rising => &self.rising,
            Form::Falling => &self.falling,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn degrees_are_found_as_they_are_said() {
        let check = |scale: &str, degree: &str, expected: Option<i32>| {
            let ladder = Ladder::new(&Scale::named(scale).unwrap());
            assert_eq!(
                ladder.rung_of(degree.parse().unwrap()),
                expected.map(Rung),
                "{degree} of {scale}"
            );
        };
        check("major", "1", Some(0));
        check("major", "5", Some(4));
        check("major", "8", Some(7));
        check("major", "9", Some(8));
        check("major", "b3", None);
        check("dorian", "3", Some(2)); // the scale's only third
        check("dorian", "b3", Some(2));
        check("dorian", "#3", None);
        check("blues", "5", Some(4)); // the natural one of two
        check("blues", "b5", Some(3));
        check("blues", "2", None);
        check("major pentatonic", "4", None);
        check("major pentatonic", "8", Some(5));
        check("altered", "4", Some(3));
        check("altered", "b11", Some(10));
        check("whole tone", "7", Some(5));
    }

    #[test]
    fn two_forms() {
        let ladder = Ladder::new(&Scale::named("classical melodic minor").unwrap());
        assert_eq!(ladder.degree(Rung(5), Form::Rising).to_string(), "6");
        assert_eq!(ladder.degree(Rung(5), Form::Falling).to_string(), "b6");
        assert_eq!(ladder.degree(Rung(-1), Form::Falling).to_string(), "b7");
    }

    proptest! {
        #[test]
        fn a_rung_is_found_again_by_its_degree(row in 0..Scale::catalogue().len(), place in 0i32..24) {
            let scale = &Scale::catalogue()[row];
            let ladder = Ladder::new(scale);
            let rung = Rung(place % ladder.size());
            prop_assert_eq!(ladder.rung_of(ladder.degree(rung, Form::Rising)), Some(rung));
        }

        #[test]
        fn the_ladder_always_rises(row in 0..Scale::catalogue().len(), place in -500i32..500) {
            let ladder = Ladder::new(&Scale::catalogue()[row]);
            for form in [Form::Rising, Form::Falling] {
                let here = ladder.interval(Rung(place), form);
                let above = ladder.interval(Rung(place) + 1, form);
                prop_assert!(here.semitones() < above.semitones());
                let octave_up = ladder.interval(Rung(place) + ladder.size(), form);
                prop_assert_eq!(octave_up, here + Interval::OCTAVE);
            }
        }

        #[test]
        fn no_rung_is_too_far(place in any::<i32>()) {
            let ladder = Ladder::new(&Scale::catalogue()[0]);
            let _ = ladder.interval(Rung(place), Form::Rising).semitones();
        }
    }
}
