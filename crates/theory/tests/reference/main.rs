//! The catalogues and rules against reference tables: every row names its
//! source, in `fixtures/tables/`.

#[cfg(test)]
mod chords;
#[cfg(test)]
mod differences;
#[cfg(test)]
mod examples;
#[cfg(test)]
mod fingerings;
#[cfg(test)]
mod instruments;
#[cfg(test)]
mod keys;
#[cfg(test)]
mod scales;
#[cfg(test)]
mod spelling;
#[cfg(test)]
mod table;
