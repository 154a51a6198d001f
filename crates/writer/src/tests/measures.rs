//! What must hold in every document: one number of divisions, lengths that
//! are their written values, full bars, ties, beams and tuplets that end.

use num_rational::Ratio;

use super::sheets;
use super::tree::Tree;

#[test]
fn every_bar_of_the_sheets_is_right() {
    for (name, score) in sheets::all() {
        check(name, &sheets::document(&score)).unwrap();
    }
}

#[test]
fn a_spoiled_sheet_is_found() {
    let sheets = sheets::all().map(|(_, score)| sheets::document(&score));
    let check = |sound: &str, spoiled: &str, expected: &str| {
        let whole = sheets.iter().find(|sheet| sheet.contains(sound)).unwrap();
        let fault = check("spoiled", &whole.replacen(sound, spoiled, 1)).unwrap_err();
        assert!(fault.contains(expected), "{fault}");
    };
    check(
        "<duration>12</duration>",
        "<duration>11</duration>",
        "length",
    );
    check("<type>eighth</type>", "<type>16th</type>", "length");
    check("        <dot/>\n", "", "length");
    check("<beats>4</beats>", "<beats>5</beats>", "bar");
    check("        <tie type=\"start\"/>\n", "", "tie");
    check("          <tied type=\"stop\"/>\n", "", "tie");
    check(
        "<octave>5</octave>\n        </pitch>\n        <duration>6</duration>\n        <tie type=\"stop\"/>",
        "<octave>4</octave>\n        </pitch>\n        <duration>6</duration>\n        <tie type=\"stop\"/>",
        "tie",
    );
    check(
        "<beam number=\"1\">end</beam>",
        "<beam number=\"1\">continue</beam>",
        "beam",
    );
    check(
        "<beam number=\"1\">begin</beam>",
        "<beam number=\"1\">continue</beam>",
        "beam",
    );
    check("<tuplet type=\"stop\" number=\"1\"/>", "", "tuplet");
    check(
        "<divisions>12</divisions>",
        "<divisions>0</divisions>",
        "divisions",
    );
}

/// What is wrong with a document, if something is.
fn check(name: &str, document: &str) -> Result<(), String> {
    let root = Tree::read(document);
    let part = root.find("part").unwrap();
    let mut state = Reading::default();
    for (index, measure) in part.all("measure").enumerate() {
        let place = format!("{name}, measure {}", measure.attribute("number").unwrap());
        if (measure.find("attributes/divisions").is_some()) != (index == 0) {
            return Err(format!(
                "{place}: divisions belong in the first measure alone"
            ));
        }
        state
            .measure(measure)
            .map_err(|fault| format!("{place}: {fault}"))?;
    }
    match state.tied {
        Some(_) => Err(format!("{name}: a tie goes nowhere")),
        None => Ok(()),
    }
}

#[derive(Default)]
struct Reading {
    divisions: i64,
    bar: Ratio<i64>,
    /// The pitch a tie comes from.
    tied: Option<String>,
}

impl Reading {
    fn measure(&mut self, measure: &Tree) -> Result<(), String> {
        if let Some(divisions) = measure.number("attributes/divisions") {
            self.divisions = divisions;
        }
        if !(1..=16_383).contains(&self.divisions) {
            return Err(format!("{} divisions", self.divisions));
        }
        if let Some(time) = measure.find("attributes/time") {
            self.bar = Ratio::new(
                4 * time.number("beats").unwrap(),
                time.number("beat-type").unwrap(),
            );
        }
        let mut filled = Ratio::new(0, 1);
        let mut in_tuplet = false;
        let mut beams = [false; 4];
        for note in measure.all("note") {
            filled += self.note_length(note)?;
            self.tie(note)?;
            tuplet(note, &mut in_tuplet)?;
            beam(note, &mut beams)?;
        }
        if in_tuplet {
            return Err("a tuplet runs over the bar line".to_owned());
        }
        if beams.contains(&true) {
            return Err("a beam runs over the bar line".to_owned());
        }
        let full = if measure.attribute("implicit") == Some("yes") {
            filled < self.bar
        } else {
            filled == self.bar
        };
        if full {
            Ok(())
        } else {
            Err(format!("the bar holds {filled} quarters of {}", self.bar))
        }
    }

    fn note_length(&self, note: &Tree) -> Result<Ratio<i64>, String> {
        let length = Ratio::new(note.number("duration").unwrap(), self.divisions);
        if note
            .find("rest")
            .is_some_and(|rest| rest.attribute("measure") == Some("yes"))
        {
            return match note.find("type") {
                None => Ok(length),
                Some(_) => Err("a whole bar's rest has a type".to_owned()),
            };
        }
        let plain = match note.text("type").unwrap() {
            "64th" => Ratio::new(1, 16),
            "32nd" => Ratio::new(1, 8),
            "16th" => Ratio::new(1, 4),
            "eighth" => Ratio::new(1, 2),
            "quarter" => Ratio::new(1, 1),
            "half" => Ratio::new(2, 1),
            "whole" => Ratio::new(4, 1),
            "breve" => Ratio::new(8, 1),
            other => return Err(format!("type {other}")),
        };
        let dots = note.all("dot").count() as u32;
        let mut value = plain * Ratio::new(2i64.pow(dots + 1) - 1, 2i64.pow(dots));
        if let Some(tuplet) = note.find("time-modification") {
            value *= Ratio::new(
                tuplet.number("normal-notes").unwrap(),
                tuplet.number("actual-notes").unwrap(),
            );
        }
        if value == length {
            Ok(length)
        } else {
            Err(format!("length {length} is written as {value}"))
        }
    }

    fn tie(&mut self, note: &Tree) -> Result<(), String> {
        let heard: Vec<_> = note
            .all("tie")
            .map(|tie| tie.attribute("type").unwrap())
            .collect();
        let drawn: Vec<_> = match note.find("notations") {
            Some(notations) => notations
                .all("tied")
                .map(|tied| tied.attribute("type").unwrap())
                .collect(),
            None => Vec::new(),
        };
        if heard != drawn {
            return Err(format!("tie {heard:?} is drawn {drawn:?}"));
        }
        let (from, to) = match heard[..] {
            [] => (false, false),
            ["stop"] => (true, false),
            ["start"] => (false, true),
            ["stop", "start"] => (true, true),
            _ => return Err(format!("tie {heard:?}")),
        };
        let pitch = note.find("pitch").map(|pitch| format!("{pitch:?}"));
        if from != self.tied.is_some() || (from && self.tied != pitch) {
            return Err("a tie joins two pitches, or nothing".to_owned());
        }
        self.tied = pitch.filter(|_| to);
        Ok(())
    }
}

fn tuplet(note: &Tree, inside: &mut bool) -> Result<(), String> {
    let edge = note
        .find("notations/tuplet")
        .and_then(|tuplet| tuplet.attribute("type"));
    let starts = edge == Some("start");
    if starts == *inside && edge.is_some() {
        return Err("a tuplet has one end".to_owned());
    }
    if note.find("time-modification").is_some() != (*inside || starts) {
        return Err("a tuplet's notes and its bracket differ".to_owned());
    }
    *inside = if edge.is_some() { starts } else { *inside };
    Ok(())
}

fn beam(note: &Tree, open: &mut [bool; 4]) -> Result<(), String> {
    for (level, open) in open.iter_mut().enumerate() {
        let number = (level + 1).to_string();
        let word = note
            .all("beam")
            .find(|beam| beam.attribute("number") == Some(&number))
            .map(|beam| &beam.text[..]);
        *open = match (word, *open) {
            (Some("begin"), false) | (Some("continue"), true) => true,
            (Some("end"), true) | (Some("forward hook" | "backward hook") | None, false) => false,
            (word, _) => return Err(format!("beam {number} goes {word:?}")),
        };
    }
    Ok(())
}
