//! Places in a file, as messages say them.

use std::fmt;

use rhythm::{Fraction, mixed};

/// Where in a file something stands; what isn't known is left out.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Place {
    /// The line of the document, from 1.
    pub line: Option<usize>,
    /// The part's name, where the file has several.
    pub part: Option<String>,
    /// The measure's printed number.
    pub measure: Option<String>,
    /// The beat, from 1, in units of the meter's lower number.
    pub beat: Option<Fraction>,
    /// The element's name.
    pub element: Option<String>,
}

/// As a message begins: `part “Flute”, measure 3, beat 2 1/2, <harmony>`;
/// empty where nothing is known.
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let said = [
            self.line.map(|line| format!("line {line}")),
            self.part.as_ref().map(|part| format!("part “{part}”")),
            self.measure
                .as_ref()
                .map(|number| format!("measure {number}")),
            self.beat.map(|beat| format!("beat {}", mixed(beat))),
            self.element.as_ref().map(|element| format!("<{element}>")),
        ];
        let said: Vec<String> = said.into_iter().flatten().collect();
        f.write_str(&said.join(", "))
    }
}

/// `prefix: message`, or the message alone.
pub(crate) fn after_place(place: &Place, message: &str, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    if *place == Place::default() {
        return f.write_str(message);
    }
    write!(f, "{place}: {message}")
}
