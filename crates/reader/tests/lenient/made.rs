//! Files made for a test, and what is read of them.

use crate::shown;

pub const HEAD: &str = "<attributes><divisions>4</divisions><key><fifths>0</fifths></key>\
    <time><beats>4</beats><beat-type>4</beat-type></time></attributes>";

/// Measures from their contents, numbered from 1; a number before a `:` is
/// the measure's own.
pub fn score(measures: &[&str]) -> String {
    let mut text = "<score-partwise version=\"4.0\"><part id=\"P1\">".to_owned();
    for (at, inside) in measures.iter().enumerate() {
        let (number, inside) = match inside.split_once(": ") {
            Some((number, inside)) => (number.to_owned(), inside),
            None => ((at + 1).to_string(), *inside),
        };
        let implicit = if number.starts_with('X') {
            " implicit=\"yes\""
        } else {
            ""
        };
        let head = if at == 0 { HEAD } else { "" };
        text.push_str(&format!(
            "<measure number=\"{number}\"{implicit}>{head}{inside}</measure>"
        ));
    }
    text + "</part></score-partwise>"
}

/// A note of so many sixteenths.
pub fn note(pitch: &str, sixteenths: u32) -> String {
    let (step, octave) = pitch.split_at(1);
    format!(
        "<note><pitch><step>{step}</step><octave>{octave}</octave></pitch>\
         <duration>{sixteenths}</duration></note>"
    )
}

pub fn rest(sixteenths: u32) -> String {
    format!("<note><rest/><duration>{sixteenths}</duration></note>")
}

pub fn chord(root: &str, kind: &str, more: &str) -> String {
    format!(
        "<harmony><root><root-step>{root}</root-step></root><kind>{kind}</kind>{more}</harmony>"
    )
}

/// Compares what is read, the head left out.
pub fn check(xml: &str, asked: &str, expected: &[&str]) {
    check_bytes(xml.as_bytes(), asked, expected);
}

pub fn check_bytes(bytes: &[u8], asked: &str, expected: &[&str]) {
    let found = shown::read(bytes, asked);
    let found: Vec<&str> = found
        .lines()
        .filter(|line| {
            !line.starts_with("key =") && !line.starts_with("played =") && *line != "meter = 4/4"
        })
        .collect();
    assert_eq!(found, expected, "{}", String::from_utf8_lossy(bytes));
}
