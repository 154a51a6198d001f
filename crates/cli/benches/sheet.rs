//! A lesson's sheet to bytes, beside a bare quick-xml writer that is handed
//! the very same events, ready made, and only has to put them down. The two
//! give the same bytes, but for a last line break.

use std::hint::black_box;

use divan::Bencher;
use divan::counter::{BytesCount, ItemsCount};
use etude::Composer;
use lesson::Lesson;
use quick_xml::events::{BytesText, Event};
use quick_xml::{Reader, Writer};
use sound::{Take, midi, perform};

fn main() {
    divan::main();
}

/// The lesson that the README walks through: labelled, swung, three exercises.
const LESSON: &str = include_str!("../../../fixtures/lessons/lantern-stairs.toml");

#[divan::bench]
fn compose_and_write(bencher: Bencher<'_, '_>) {
    let lesson = lesson();
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    let mut out = document(&composer);
    rated(bencher, out.len()).bench_local(move || {
        out.clear();
        write_first(black_box(&composer), &mut out);
        black_box(&out);
    });
}

#[divan::bench]
fn compose_only(bencher: Bencher<'_, '_>) {
    let lesson = lesson();
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    bencher
        .counter(ItemsCount::new(1usize))
        .bench_local(move || black_box(composer.compose(&composer.plans()[0])));
}

/// A form of 64 bars on one horn in one key.
#[divan::bench]
fn over_changes(bencher: Bencher<'_, '_>) {
    let lesson = changes();
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    bencher
        .counter(ItemsCount::new(1usize))
        .bench_local(move || black_box(composer.compose(&composer.plans()[0])));
}

/// The same in twelve keys for thirty horns.
#[divan::bench]
fn over_changes_for_everyone(bencher: Bencher<'_, '_>) {
    let lesson = changes();
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    let plans = composer.plans();
    bencher
        .counter(ItemsCount::new(plans.len()))
        .bench_local(|| {
            for plan in plans {
                black_box(composer.compose(black_box(plan)).is_ok());
            }
        });
}

/// A sheet's practice track instead of the sheet.
#[divan::bench]
fn compose_and_play(bencher: Bencher<'_, '_>) {
    let lesson = lesson();
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    let bytes = track(&composer).len();
    rated(bencher, bytes).bench_local(|| track(black_box(&composer)));
}

#[divan::bench]
fn bare_writer(bencher: Bencher<'_, '_>) {
    let lesson = lesson();
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    let document = document(&composer);
    let events = events(&document);
    let mut out = Vec::with_capacity(document.len());
    push(&events, &mut out);
    assert!(
        out.trim_ascii_end() == document.trim_ascii_end(),
        "the bare writer gives the same bytes"
    );
    rated(bencher, document.len()).bench_local(move || {
        out.clear();
        push(&events, &mut out);
        black_box(&out);
    });
}

fn rated<'a, 'b>(bencher: Bencher<'a, 'b>, bytes: usize) -> Bencher<'a, 'b> {
    bencher
        .counter(BytesCount::new(bytes))
        .counter(ItemsCount::new(1usize))
}

/// Sixteen bars four times over, for thirty instruments.
fn changes() -> Lesson {
    let instruments: Vec<String> = theory::Instrument::catalogue()
        .iter()
        .take(30)
        .map(|instrument| format!("\"{}\"", instrument.id))
        .collect();
    let text = format!(
        "title = \"Sixty-four\"\ninstruments = [{}]\n{OVER}",
        instruments.join(", ")
    );
    match lesson_text::read(&text, "sixty-four") {
        Ok(lesson) => lesson,
        Err(mistakes) => unreachable!("the lesson has no mistakes: {mistakes:?}"),
    }
}

const OVER: &str = r#"
[changes]
key = "C"
[[section]]
bars = "| Cmaj7 | Am7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Fmaj7 | Bb7 | Em7 | A7 | Dm7 | G7 | C6 | G7 |"
times = 4
[figure]
moves = "start, step up, step up, skip down, step up"
count = "1 & 2 & 3"
[[exercise]]
kind = "changes"
variants = ["as it is", "flipped", "reversed"]
"#;

fn lesson() -> Lesson {
    match lesson_text::read(LESSON, "lantern-stairs") {
        Ok(lesson) => lesson,
        Err(mistakes) => unreachable!("the shipped lesson has no mistakes: {mistakes:?}"),
    }
}

fn track(composer: &Composer<'_>) -> Vec<u8> {
    let sheet = composer.compose(&composer.plans()[0]).ok();
    let performance = sheet.and_then(|sheet| perform(&[&sheet.score], &Take::default()).ok());
    performance
        .map(|performance| midi(&performance))
        .unwrap_or_default()
}

fn document(composer: &Composer<'_>) -> Vec<u8> {
    let mut out = Vec::new();
    write_first(composer, &mut out);
    out
}

fn write_first(composer: &Composer<'_>, out: &mut Vec<u8>) {
    if let Ok(sheet) = composer.compose(&composer.plans()[0]) {
        writer::musicxml(&sheet.score, out);
    }
}

fn push(events: &[Event<'static>], out: &mut Vec<u8>) {
    let mut writer = Writer::new_with_indent(out, b' ', 2);
    for event in events {
        // Into a vector, which takes everything.
        let _ = writer.write_event(black_box(event).borrow());
    }
}

/// The document's events, white space between them left to the writer.
fn events(document: &[u8]) -> Vec<Event<'static>> {
    let text = String::from_utf8_lossy(document);
    let mut reader = Reader::from_str(&text);
    let mut events = Vec::new();
    while let Ok(event) = reader.read_event() {
        match event {
            Event::Eof => break,
            Event::Text(text) if text.trim_ascii().is_empty() => {}
            // Text too, or the indenting writer would break the line after it.
            Event::GeneralRef(name) => events.push(Event::Text(BytesText::from_escaped(format!(
                "&{};",
                &*name
            )))),
            event => events.push(event.into_owned()),
        }
    }
    events
}
