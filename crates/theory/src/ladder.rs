//! The ladder: a scale laid out without end in both directions.

use std::ops::{Add, Sub};

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

impl Sub<i32> for Rung {
    type Output = Rung;
    fn sub(self, steps: i32) -> Rung {
        Rung(self.0 - steps)
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
    rising: Vec<Degree>,
    falling: Vec<Degree>,
}

impl Ladder {
    /// The ladder of a scale.
    pub fn new(scale: &Scale) -> Ladder {
        let falling = scale.descending.as_ref().unwrap_or(&scale.degrees);
        Ladder { rising: scale.degrees.clone(), falling: falling.clone() }
    }

    /// Rungs to the octave.
    pub fn size(&self) -> i32 {
        self.rising.len() as i32
    }

    /// The degree of a rung.
    pub fn degree(&self, rung: Rung, form: Form) -> Degree {
        self.degrees(form)[rung.0.rem_euclid(self.size()) as usize]
    }

    /// The interval from rung 0 to a rung.
    pub fn interval(&self, rung: Rung, form: Form) -> Interval {
        let octaves = rung.0.div_euclid(self.size());
        self.degree(rung, form).interval() + Interval::OCTAVE * octaves as i16
    }

    /// The first-octave rung of a degree said bare or exactly: a bare number
    /// is the scale's only note of that number, or the natural one where it
    /// has several; with an accidental it must match exactly. 8 and above
    /// count on from the next root.
    pub fn rung_of(&self, degree: Degree) -> Option<Rung> {
        todo!()
    }

    fn degrees(&self, form: Form) -> &[Degree] {
        match form {
            Form::Rising => &self.rising,
            Form::Falling => &self.falling,
        }
    }
}
