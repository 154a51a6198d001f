//! What was read, in the words of the expectations.

use std::fmt::Write;

use lesson::{Bar, Changes, Named, Phrase, PlacedChord};
use reader::{Selection, Warning};
use rhythm::Fraction;
use theory::{KeySignature, Mode};

/// Reads bytes as `asked` says (`changes written`, `phrase sounding 1-2`).
pub fn read(bytes: &[u8], asked: &str) -> String {
    let words: Vec<&str> = asked.split_whitespace().collect();
    let ask = Selection {
        named: if words[1] == "sounding" {
            Named::Concert
        } else {
            Named::Written
        },
        ..Selection::default()
    };
    if words[0] == "changes" {
        match reader::changes(bytes, &ask) {
            Ok(reading) => changes(&reading.value) + &warnings(&reading.warnings),
            Err(error) => format!("error = {error}\n"),
        }
    } else {
        let bars = words.get(2).map(|bars| bars.parse().unwrap());
        match reader::phrase(bytes, &ask, bars) {
            Ok(reading) => phrase(&reading.value) + &warnings(&reading.warnings),
            Err(error) => format!("error = {error}\n"),
        }
    }
}

fn changes(changes: &Changes) -> String {
    let mut text = head(changes.title.as_deref(), changes.key);
    for section in &changes.sections {
        if changes.sections.len() > 1 || section.times > 1 || section.name.is_some() {
            let name = section
                .name
                .as_ref()
                .map_or(String::new(), |name| format!(" {name}"));
            writeln!(text, "section{name} x{}", section.times).unwrap();
        }
        section.bars.iter().for_each(|one| bar(one, &mut text));
        for ending in &section.endings {
            let times: Vec<String> = ending.at_times.iter().map(u16::to_string).collect();
            writeln!(text, "ending {}", times.join(" ")).unwrap();
            ending.bars.iter().for_each(|one| bar(one, &mut text));
        }
    }
    let played: Vec<&str> = changes.played().map(|bar| bar.number.as_str()).collect();
    writeln!(text, "played = {}", played.join(" ")).unwrap();
    text
}

fn bar(bar: &Bar, text: &mut String) {
    write!(text, "bar {} {}", bar.number, bar.meter).unwrap();
    if bar.length != bar.meter.bar() {
        write!(text, " from {} length {}", bar.from, bar.length).unwrap();
    }
    writeln!(text, ": {}", chords(&bar.chords)).unwrap();
    let end = text.trim_end().len();
    text.truncate(end);
    text.push('\n');
}

fn chords(chords: &[PlacedChord]) -> String {
    let chords = chords
        .iter()
        .map(|chord| format!("{} {}", chord.at, chord.symbol));
    chords.collect::<Vec<_>>().join(", ")
}

fn phrase(phrase: &Phrase) -> String {
    let mut text = head(phrase.title.as_deref(), phrase.key);
    writeln!(text, "meter = {}", phrase.meter).unwrap();
    if phrase.pickup > Fraction::ZERO {
        writeln!(text, "pickup = {}", phrase.pickup).unwrap();
    }
    let notes = phrase.notes.iter().map(|note| {
        let pitch = note
            .pitch
            .map_or_else(|| "-".to_owned(), |pitch| pitch.to_string());
        format!("{}+{} {pitch}", note.onset, note.length)
    });
    writeln!(text, "notes = {}", notes.collect::<Vec<_>>().join(", ")).unwrap();
    if !phrase.chords.is_empty() {
        writeln!(text, "chords = {}", chords(&phrase.chords)).unwrap();
    }
    text
}

fn head(title: Option<&str>, key: Option<KeySignature>) -> String {
    let title = title.map_or(String::new(), |title| format!("title = {title}\n"));
    let key = match key {
        None => "none".to_owned(),
        Some(key) => {
            let mode = match key.mode {
                Some(Mode::Major) => " major",
                Some(Mode::Minor) => " minor",
                None => "",
            };
            format!("{}{mode}", key.signature.fifths())
        }
    };
    format!("{title}key = {key}\n")
}

fn warnings(warnings: &[Warning]) -> String {
    warnings
        .iter()
        .map(|warning| format!("warning = {warning}\n"))
        .collect()
}
