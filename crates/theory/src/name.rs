//! Names as teachers type them: case, hyphens, spaces and the signs ♭ ♯ don't
//! matter, near misses are suggested, and a name that fits several is refused
//! with the list.

use std::fmt;

/// A name that means nothing here, or too much.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NameError {
    /// What was typed.
    pub typed: String,
    /// What is wrong with it.
    pub fault: NameFault,
}

/// What is wrong with a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NameFault {
    /// Nothing has this name; the nearest names, best first, may be empty.
    Unknown(Vec<String>),
    /// Several things have it; their full names.
    Several(Vec<String>),
}

impl fmt::Display for NameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let typed = &self.typed;
        match &self.fault {
            NameFault::Unknown(near) if near.is_empty() => {
                write!(f, "\"{typed}\" is not a name we know")
            }
            NameFault::Unknown(near) => {
                write!(
                    f,
                    "\"{typed}\" is not a name we know; did you mean {}?",
                    near.join(" or ")
                )
            }
            NameFault::Several(names) => {
                write!(f, "\"{typed}\" fits several: {}", names.join(", "))
            }
        }
    }
}

impl std::error::Error for NameError {}

impl NameError {
    pub(crate) fn unknown(typed: &str, near: Vec<String>) -> NameError {
        NameError {
            typed: typed.trim().to_owned(),
            fault: NameFault::Unknown(near),
        }
    }

    pub(crate) fn several(typed: &str, names: Vec<String>) -> NameError {
        NameError {
            typed: typed.trim().to_owned(),
            fault: NameFault::Several(names),
        }
    }
}

/// The names of one catalogue, prepared for looking up.
#[derive(Debug)]
pub(crate) struct Index {
    entries: Vec<Entry>,
    /// Whether `clarinet in B♭` and `B♭ clarinet` are the same.
    any_order: bool,
}

#[derive(Debug)]
struct Entry {
    row: usize,
    /// As it is suggested.
    shown: String,
    words: Vec<String>,
    /// The words run together, as said and with `flat` made a sign.
    keys: [String; 2],
}

/// Longer texts are no misspelled names.
const LONGEST: usize = 64;

impl Index {
    /// From each row's names, id first: its words are what is suggested.
    pub(crate) fn new<'a>(names: impl Iterator<Item = (usize, &'a str)>, any_order: bool) -> Index {
        let entry = |(row, name): (usize, &str)| Entry {
            row,
            shown: name.replace('-', " "),
            words: words(name),
            keys: keys(name),
        };
        Index {
            entries: names.map(entry).collect(),
            any_order,
        }
    }

    /// The rows that have exactly this name, each once, in order.
    pub(crate) fn rows(&self, typed: &str) -> Vec<usize> {
        if typed.len() > LONGEST {
            return Vec::new();
        }
        let said = keys(typed);
        let mut rows: Vec<usize> = self
            .entries
            .iter()
            .filter(|entry| {
                entry
                    .keys
                    .iter()
                    .any(|key| !key.is_empty() && said.contains(key))
            })
            .map(|entry| entry.row)
            .collect();
        if rows.is_empty() && self.any_order {
            let said = unordered(words(typed));
            let same = |entry: &&Entry| !said.is_empty() && unordered(entry.words.clone()) == said;
            rows = self
                .entries
                .iter()
                .filter(same)
                .map(|entry| entry.row)
                .collect();
        }
        rows.sort_unstable();
        rows.dedup();
        rows
    }

    /// Names close enough to be meant, best first, at most three, one for each
    /// row.
    pub(crate) fn near(&self, typed: &str) -> Vec<String> {
        if typed.len() > LONGEST {
            return Vec::new();
        }
        let [said, _] = keys(typed);
        let mut near: Vec<(usize, &Entry)> = self
            .entries
            .iter()
            .map(|entry| (strsim::damerau_levenshtein(&said, &entry.keys[0]), entry))
            .filter(|(distance, entry)| {
                *distance <= (said.len().min(entry.keys[0].len()) / 4).clamp(1, 3)
            })
            .collect();
        near.sort_by_key(|(distance, _)| *distance);
        let best = near.first().map_or(0, |(distance, _)| *distance);
        near.retain(|(distance, _)| *distance <= best + 1);
        let mut rows = Vec::new();
        near.retain(|(_, entry)| {
            let new = !rows.contains(&entry.row);
            rows.push(entry.row);
            new
        });
        near.into_iter()
            .take(3)
            .map(|(_, entry)| entry.shown.clone())
            .collect()
    }
}

/// The words of a name in their plainest form: small letters, signs as `b` and
/// `#`, `b flat` as `bb`, `flat 5` as `b5`, numbers in digits.
pub(crate) fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in split(name) {
        let word = match word.as_str() {
            "two" => "2".to_owned(),
            "three" => "3".to_owned(),
            "four" => "4".to_owned(),
            "five" => "5".to_owned(),
            "six" => "6".to_owned(),
            "seven" => "7".to_owned(),
            "eight" => "8".to_owned(),
            "nine" => "9".to_owned(),
            "sax" | "saxes" | "saxophones" => "saxophone".to_owned(),
            "bflat" | "eflat" | "aflat" | "dflat" | "gflat" => format!("{}b", &word[..1]),
            _ => word,
        };
        let before = words.last().map_or("", String::as_str);
        let number = word.chars().all(|c| c.is_ascii_digit());
        match before {
            "flat" | "sharp" | "b" | "#" | "bb" if number => {
                let sign = if before.starts_with(['s', '#']) {
                    "#"
                } else {
                    "b"
                };
                let sign = if before == "bb" { "bb" } else { sign };
                words.pop();
                let doubled = words.last().is_some_and(|word| word == "double");
                if doubled {
                    words.pop();
                }
                words.push(format!(
                    "{}{word}",
                    if doubled {
                        sign.repeat(2)
                    } else {
                        sign.to_owned()
                    }
                ));
            }
            _ if matches!(word.as_str(), "flat" | "sharp") && is_letter(before) => {
                let sign = if word == "flat" { 'b' } else { '#' };
                if let Some(letter) = words.last_mut() {
                    letter.push(sign);
                }
            }
            _ => words.push(word),
        }
    }
    words
}

fn is_letter(word: &str) -> bool {
    word.len() == 1 && word.starts_with(|c| ('a'..='g').contains(&c))
}

/// Words in the order of the alphabet, without those that only join.
fn unordered(mut words: Vec<String>) -> Vec<String> {
    words.retain(|word| !matches!(word.as_str(), "in" | "the"));
    words.sort_unstable();
    words
}

/// The name run together: as it was said, and with its words made plain.
fn keys(name: &str) -> [String; 2] {
    [split(name).concat(), words(name).concat()]
}

fn split(name: &str) -> Vec<String> {
    let plain = name.replace('♭', "b").replace('♯', "#").to_lowercase();
    plain
        .split(|c: char| !c.is_alphanumeric() && c != '#')
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::{Instrument, KeyOrder, Scale};

    proptest! {
        #[test]
        fn nothing_typed_panics(text in "\\PC{0,80}|[a-gA-G](b|#|♭| flat| sharp)? ?[a-z0-9 -]{0,20}") {
            let _ = Scale::with_root(&text);
            let _ = Scale::named(&text);
            let _ = Instrument::named(&text);
            let _ = KeyOrder::from_words(&text);
        }
    }

    #[test]
    fn names_are_made_plain() {
        let check =
            |name: &str, expected: &str| assert_eq!(words(name).join(" "), expected, "{name}");
        check("B-flat Clarinet", "bb clarinet");
        check("Clarinet in B♭", "clarinet in bb");
        check("bflat clarinet", "bb clarinet");
        check("dorian flat 2", "dorian b2");
        check("Dorian ♭2", "dorian b2");
        check("locrian double flat 7", "locrian bb7");
        check("Locrian ♭♭7", "locrian bb7");
        check("lydian-sharp-2", "lydian #2");
        check("dorian flat two", "dorian b2");
        check("flat-three pentatonic", "b3 pentatonic");
        check("phrygian flat four", "phrygian b4");
        check("ionian sharp five", "ionian #5");
        check("flat-six pentatonic", "b6 pentatonic");
        check("locrian double flat seven", "locrian bb7");
        check("eight-tone Spanish", "8 tone spanish");
        check("dominant flat nine", "dominant b9");
        check("Alto sax", "alto saxophone");
        check("  ", "");
    }

    #[test]
    fn what_is_wrong_is_said() {
        let check = |fault: NameFault, expected: &str| {
            let typed = "dorain".to_owned();
            assert_eq!(NameError { typed, fault }.to_string(), expected);
        };
        let names = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        check(
            NameFault::Unknown(Vec::new()),
            "\"dorain\" is not a name we know",
        );
        check(
            NameFault::Unknown(names(&["dorian", "locrian"])),
            "\"dorain\" is not a name we know; did you mean dorian or locrian?",
        );
        check(
            NameFault::Several(names(&["alto flute", "bass flute"])),
            "\"dorain\" fits several: alto flute, bass flute",
        );
    }

    #[test]
    fn nothing_long_is_a_name() {
        let longest = "a".repeat(LONGEST);
        let longer = "a".repeat(LONGEST + 1);
        let both = [longest.as_str(), longer.as_str()];
        let index = Index::new(both.into_iter().enumerate(), false);
        assert_eq!(index.rows(&longest), [0]);
        assert_eq!(index.near(&longest), both);
        assert!(index.rows(&longer).is_empty());
        assert!(index.near(&longer).is_empty());
    }

    #[test]
    fn long_names_may_have_more_misspelled() {
        let names = ["bebop-minor", "bebop-major", "chromatic", "blues"];
        let index = Index::new(names.into_iter().enumerate(), false);
        let check =
            |typed: &str, expected: &[&str]| assert_eq!(index.near(typed), expected, "{typed}");
        check("cromatik", &["chromatic"]);
        check("bluis", &["blues"]);
        check("bluus major", &[]);
        check("bloos", &[]); // two of five letters
        check("bebop mnor", &["bebop minor", "bebop major"]); // one letter off, and two
        check("bebop minr", &["bebop minor"]); // the other is three off
    }

    #[test]
    fn near_misses_are_few_and_best_first() {
        let names = ["dorian", "dorian-flat-2", "lydian", "locrian", "blues"];
        let index = Index::new(names.into_iter().enumerate(), false);
        let check =
            |typed: &str, expected: &[&str]| assert_eq!(index.near(typed), expected, "{typed}");
        check("dorain", &["dorian"]);
        check("lydain", &["lydian"]);
        check("locrain", &["locrian"]);
        check("blue", &["blues"]);
        check("zzz", &[]);
        check("", &[]);
        check(&"dorian".repeat(1000), &[]);
    }
}
