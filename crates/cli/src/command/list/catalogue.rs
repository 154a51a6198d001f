//! The catalogues that `list` shows, as they are typed. Whoever types a thing
//! where its catalogue is wanted is told which one has it.

use std::ffi::OsStr;

use clap::builder::{EnumValueParser, PossibleValue, StyledStr, TypedValueParser};
use clap::error::{ContextKind, ContextValue};
use clap::{Arg, Command, Error, ValueEnum};
use theory::{Chord, Instrument, Scale};

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Catalogue {
    Scales,
    Instruments,
    Chords,
    KeyOrders,
    Exercises,
}

impl Catalogue {
    /// As it is typed.
    pub fn word(self) -> &'static str {
        match self {
            Catalogue::Scales => "scales",
            Catalogue::Instruments => "instruments",
            Catalogue::Chords => "chords",
            Catalogue::KeyOrders => "key-orders",
            Catalogue::Exercises => "exercises",
        }
    }

    /// The one that has a thing of this name.
    fn having(name: &str) -> Option<Catalogue> {
        if Scale::named(name).is_ok() {
            Some(Catalogue::Scales)
        } else if Instrument::named(name).is_ok() {
            Some(Catalogue::Instruments)
        } else if Chord::parse(name).is_ok() {
            Some(Catalogue::Chords)
        } else {
            None
        }
    }
}

#[derive(Debug, Clone)]
pub struct CatalogueParser;

impl TypedValueParser for CatalogueParser {
    type Value = Catalogue;

    fn parse_ref(
        &self,
        command: &Command,
        argument: Option<&Arg>,
        value: &OsStr,
    ) -> Result<Catalogue, Error> {
        let parsed = EnumValueParser::new().parse_ref(command, argument, value);
        parsed.map_err(|mut error| {
            let name = value.to_string_lossy();
            if let Some(catalogue) = Catalogue::having(&name) {
                let catalogue = catalogue.word();
                let tip = format!("for this one, write: twelvefold list {catalogue} \"{name}\"");
                let tip = ContextValue::StyledStrs(vec![StyledStr::from(tip)]);
                error.insert(ContextKind::Suggested, tip);
            }
            error
        })
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        let words = Catalogue::value_variants().iter();
        Some(Box::new(words.filter_map(ValueEnum::to_possible_value)))
    }
}
