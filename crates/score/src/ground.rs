//! What an exercise is played over, for those who accompany it.

use theory::{Degree, PitchName};

/// What an exercise is played over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ground {
    /// The root of its scale, over changes the tonic of their key, in written
    /// pitch; of an exercise that goes through keys the first.
    pub tonic: PitchName,
    /// The scale on it, upwards.
    pub scale: Vec<Degree>,
    /// Over changes the bars of a chorus, a pickup not counted.
    pub chorus: Option<u32>,
}
