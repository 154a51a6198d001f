//! The one place that says where a reference row and the design part ways.
//! The design wins; each entry says why.

/// Scales printed under another name than the table's.
pub const SCALE_NAMES: &[(&str, &str)] = &[
    ("melodic-minor", "Melodic minor"), // "(ascending form both ways)" is no musician's name
    ("messiaen-3", "Nonatonic"),        // a plain name instead of a person's
    ("oriental", "Mixolydian b2 b5"),   // a plain name instead of one for a part of the world
];

/// Aliases of one row in the table that in use belong to several scales: they
/// are refused with the list.
pub const SHARED_ALIASES: &[&str] = &["octatonic"];

/// Concert keys that instruments in C keep as they were given (rule 1: they
/// never transpose), where the table would rename them.
pub const KEPT_IN_C: &[&str] = &["C# major", "Cb major"];

/// General MIDI sounds of the examples that no instrument of the catalogue
/// has.
pub const NO_INSTRUMENT: &[&str] = &["Acoustic Bass"];

/// Examples answered from a school's grade 6 to 8 ranges, which the
/// instruments' table keeps in columns of their own; our intermediate ranges
/// are that table's wider ones.
pub const SCHOOL_RANGES: &[&str] = &["range-fit-04", "range-fit-06"];
