//! Rules 7 and 8: values, ties, rests, beams and tuplets as they are written.
#![cfg(test)]

mod any;
mod beams;
mod values;
mod written;
