//! The rules of the design, from a lesson's words to what stands on the
//! sheet. Lines are written `A4 B4/2`: written pitch, and how many eighths it
//! sounds where that isn't one; `r` is a rest, `~` a tie, `|` a bar line.
#![cfg(test)]

mod any_over;
mod books;
mod cheapest;
mod chord_kinds;
mod costs;
mod etudes;
mod exercises;
mod figures;
mod fingering;
mod guide_tones;
mod headings;
mod keys;
mod labels;
mod literal;
mod notation;
mod over;
mod over_time;
mod own_words;
mod ranges;
mod sections;
mod studies;
mod support;
mod systems;
mod through;
mod timing;
mod too_wide;
mod variants;
mod worksheets;
