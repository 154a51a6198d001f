//! The scales that a teacher thinks of first (common practice). Among those
//! that fit a phrase as well, one of these is named rather than another.

/// Whether a scale of the catalogue is one of them.
pub(crate) fn is_usual(id: &str) -> bool {
    USUAL.contains(&id)
}

const USUAL: [&str; 24] = [
    "major",
    "dorian",
    "phrygian",
    "lydian",
    "mixolydian",
    "natural-minor",
    "locrian",
    "melodic-minor",
    "lydian-dominant",
    "altered",
    "harmonic-minor",
    "phrygian-dominant",
    "harmonic-major",
    "major-pentatonic",
    "minor-pentatonic",
    "blues",
    "major-blues",
    "bebop-dominant",
    "bebop-major",
    "bebop-dorian",
    "whole-tone",
    "diminished-whole-half",
    "diminished-half-whole",
    "augmented",
];

#[cfg(test)]
mod tests {
    use theory::Scale;

    use super::*;

    #[test]
    fn all_are_in_the_catalogue() {
        for id in USUAL {
            assert!(
                Scale::named(id).is_ok_and(|scale| scale.id.as_deref() == Some(id)),
                "{id}"
            );
        }
    }
}
