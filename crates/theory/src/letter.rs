//! The seven letters that every spelling rests on.

use std::fmt;

/// A note's letter, without accidental or octave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Letter {
    /// C
    C,
    /// D
    D,
    /// E
    E,
    /// F
    F,
    /// G
    G,
    /// A
    A,
    /// B
    B,
}

impl Letter {
    /// All letters, upward from C as scientific octaves count them.
    pub const ALL: [Letter; 7] = [
        Letter::C,
        Letter::D,
        Letter::E,
        Letter::F,
        Letter::G,
        Letter::A,
        Letter::B,
    ];

    /// Diatonic steps above C, 0 to 6.
    pub const fn steps(self) -> i16 {
        self as i16
    }

    /// The letter that many diatonic steps above C, in any octave.
    pub const fn from_steps(steps: i16) -> Letter {
        Letter::ALL[steps.rem_euclid(7) as usize]
    }

    /// The natural note's place on the line of fifths, C = 0, F = −1, B = 5.
    pub const fn fifths(self) -> i16 {
        [0, 2, 4, -1, 1, 3, 5][self as usize]
    }

    /// The capital letter.
    pub const fn char(self) -> char {
        ['C', 'D', 'E', 'F', 'G', 'A', 'B'][self as usize]
    }

    /// The letter written as `c`, capital or small.
    pub fn from_char(c: char) -> Option<Letter> {
        let upper = c.to_ascii_uppercase();
        Letter::ALL
            .into_iter()
            .find(|letter| letter.char() == upper)
    }
}

impl fmt::Display for Letter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.char())
    }
}
