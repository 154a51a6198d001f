//! Lessons composed for a look at their lines.

use etude::{Composer, LeftOut, Sheet};
use lesson::Lesson;
use rhythm::Fraction;
use score::{Element, Measure};

/// A lesson from its text; the head is `title` and one player on concert
/// pitch if the text says no other.
pub fn lesson(text: &str) -> Lesson {
    let text = if text.contains("title") {
        text.to_owned()
    } else {
        format!("title = \"Test\"\n{text}")
    };
    match lesson_text::read(&text, "test") {
        Ok(lesson) => lesson,
        Err(mistakes) => {
            let rows = mistakes
                .iter()
                .map(|mistake| format!("{}: {}", &text[mistake.span.clone()], mistake.message));
            panic!("{}", rows.collect::<Vec<_>>().join("\n"))
        }
    }
}

/// One sheet of a lesson, by its place among the plans.
pub fn sheet(text: &str, place: usize) -> Result<Sheet, LeftOut> {
    let lesson = lesson(text);
    let composer = Composer::new(&lesson).unwrap();
    composer.compose(&composer.plans()[place])
}

/// The line of a lesson's first sheet.
pub fn line(text: &str) -> String {
    line_of(&sheet(text, 0).unwrap())
}

/// The line of a sheet.
pub fn line_of(sheet: &Sheet) -> String {
    let score = &sheet.score;
    let bars = score
        .part
        .measures
        .iter()
        .map(|measure| bar(measure, score.divisions));
    bars.collect::<Vec<_>>().join(" | ")
}

fn bar(measure: &Measure, divisions: u32) -> String {
    let elements = measure.elements.iter().map(|element| {
        let eighths = Fraction::new(
            i64::from(element.written().length) * 2,
            i64::from(divisions),
        );
        let length = if eighths == Fraction::ONE {
            String::new()
        } else {
            format!("/{eighths}")
        };
        match element {
            Element::Note(note) => format!(
                "{}{length}{}",
                note.pitch,
                if note.tied_to { "~" } else { "" }
            ),
            Element::Slash(slash) if slash.rhythmic => format!("x{length}"),
            Element::Slash(_) => format!("/{length}"),
            Element::Rest(rest) if rest.hidden && rest.whole_bar => "H".to_owned(),
            Element::Rest(rest) if rest.hidden => format!("h{length}"),
            Element::Rest(rest) if rest.whole_bar => "R".to_owned(),
            Element::Rest(_) => format!("r{length}"),
        }
    });
    elements.collect::<Vec<_>>().join(" ")
}

/// Checks the first sheet's line.
pub fn check(text: &str, expected: &str) {
    assert_eq!(line(text), expected, "\n{text}");
}

/// The note that a sheet lacks, and the range it lies outside.
pub fn missing(left_out: &LeftOut) -> (theory::Pitch, theory::Range) {
    match left_out {
        LeftOut::OffTheHorn { note, range, .. } => (*note, *range),
        LeftOut::NothingToPlay | LeftOut::Stopped => panic!("{left_out}"),
    }
}
