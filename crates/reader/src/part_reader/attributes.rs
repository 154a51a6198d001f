//! What a measure says of its time and its pitches: divisions, key,
//! transposition, meter.

use lesson::Named;
use num_traits::Signed;
use rhythm::Fraction;
use theory::Interval;

use super::PartReader;
use crate::element::Element;
use crate::key::{key, transpose};
use crate::meter::meter;
use crate::part::Concern;
use crate::shown::shown;
use crate::time::decimal;

impl PartReader {
    pub(super) fn attributes(&mut self, element: &Element) -> Result<(), (&'static str, String)> {
        if let Some(text) = element.said("divisions") {
            let divisions = decimal(text).filter(|divisions| {
                divisions.is_positive() && *divisions <= Fraction::from(1_000_000)
            });
            self.divisions = Some(divisions.ok_or_else(|| {
                (
                    "divisions",
                    format!("{} is no number of parts of a quarter", shown(text)),
                )
            })?);
        }
        if let Some(element) = element.child("key") {
            match key(element) {
                Ok(key) => self.key = Some(key),
                Err(why) => {
                    self.key = None;
                    self.warn(Concern::All, "key", why);
                }
            }
        }
        if let Some(element) = element.child("transpose") {
            let (interval, guess) = transpose(element)?;
            if let Some(guess) = guess {
                self.warn(Concern::All, "transpose", guess);
            }
            let octaves = interval.semitones() % 12 == 0;
            if self.concert_score && !octaves {
                let why = "the file says that its pitches sound as written: \
                           the transposition was left out";
                self.warn(Concern::All, "transpose", why.to_owned());
                self.transpose = Interval::UNISON;
            } else {
                self.transpose = interval;
            }
        }
        if let Some(element) = element.child("time") {
            let (read, guess) = match meter(element) {
                Ok(read) => read,
                Err(why) => (None, Some(format!("{why}: it was left out"))),
            };
            if let Some(guess) = guess {
                self.warn(Concern::All, "time", guess);
            }
            if let Some(read) = read {
                if self.at > Fraction::ZERO {
                    let why = "a meter that changes inside a bar was taken from the next bar on";
                    self.warn(Concern::All, "time", why.to_owned());
                } else if let Some(measure) = self.part.measures.last_mut() {
                    measure.meter = Some(read.clone());
                }
                self.meter = Some(read);
            }
        }
        for style in element.children("measure-style") {
            if style.child("measure-repeat").is_some() || style.child("beat-repeat").is_some() {
                let why = "a sign that repeats a bar or a beat was not played out";
                self.warn(Concern::Line, "measure-style", why.to_owned());
            }
        }
        self.move_pitches();
        Ok(())
    }

    /// Finds the interval to the pitches asked for; one that would give a key
    /// no signature takes the next name of the same sound.
    fn move_pitches(&mut self) {
        let plain = match self.named {
            Named::Written => Interval::UNISON,
            Named::Concert => self.transpose,
        };
        let shift = self.key.map_or(plain, |key| key.fitting(plain));
        if shift != plain {
            let why = "the sounding key would have more than 7 signs: it was respelled";
            self.warn(Concern::All, "key", why.to_owned());
        }
        self.shift = shift;
        let key = self.key.and_then(|key| key.moved(shift));
        let home = self.key.and_then(|key| key.home(shift));
        let first = self.part.measures.len() == 1;
        if let Some(measure) = self
            .part
            .measures
            .last_mut()
            .filter(|_| self.at == Fraction::ZERO)
        {
            measure.written_to_sounding = self.transpose;
            measure.key = key;
            measure.home = home;
        }
        if first && self.part.key.is_none() {
            self.part.key = key;
        }
    }
}
