//! A system set: the staff as it was drawn, and over and under it, in rows that
//! nothing else touches, what we set ourselves: bar number, chord symbols,
//! heading, labels.
//!
//! All places are in hundredths of a millimetre; inside of a system y is
//! counted from the staff's top line.

use std::collections::BTreeSet;
use std::fmt::Write;

use score::{Break, Element, Measure, Score};
use theory::ChordSymbol;

use crate::drawn::{DrawnBar, DrawnSystem};
use crate::engraver::STAFF;
use crate::heading::Heading;
use crate::ink::{self, Ink};
use crate::{Anchor, EngraveError, Hundredths, Line, decimal};

/// A system ready to be put on a page.
#[derive(Debug, Clone)]
pub(crate) struct SetSystem {
    /// SVG elements, the system's top left corner at 0, 0.
    pub(crate) svg: String,
    /// The codes of the glyphs that it uses.
    pub(crate) glyphs: BTreeSet<char>,
    /// From the top of what stands highest to the bottom of what stands lowest.
    pub(crate) height: Hundredths,
    /// The heading of the exercise that begins here.
    pub(crate) opens: Option<String>,
    /// Whether a new page begins here.
    pub(crate) page: bool,
}

/// Sets what was drawn of a score. A staff is so high, and a page is so wide
/// between its margins: a heading may reach further than a short last system.
///
/// # Errors
/// When the drawing hasn't the score's bars, notes and chord symbols.
pub(crate) fn set(
    score: &Score,
    drawn: &[DrawnSystem],
    staff: Hundredths,
    width: Hundredths,
) -> Result<Vec<SetSystem>, EngraveError> {
    let mut measures = score.part.measures.iter();
    let mut set = Vec::with_capacity(drawn.len());
    for system in drawn {
        let own: Vec<&Measure> = measures.by_ref().take(system.bars.len()).collect();
        if own.len() < system.bars.len() {
            return Err(EngraveError::Drawn("more bars than there are".to_owned()));
        }
        set.push(one(score, system, &own, staff, width)?);
    }
    match measures.next() {
        None => Ok(set),
        Some(_) => Err(EngraveError::Drawn("fewer bars than there are".to_owned())),
    }
}

fn one(
    score: &Score,
    drawn: &DrawnSystem,
    measures: &[&Measure],
    staff: Hundredths,
    width: Hundredths,
) -> Result<SetSystem, EngraveError> {
    let lines = drawn
        .staff
        .ok_or_else(|| EngraveError::Drawn("a system without a staff".to_owned()))?;
    let size = |units: i32| scaled(units, staff);
    let down = lines.top;
    let mut setting = Setting {
        staff,
        width: width.max(size(lines.right)),
        inks: drawn
            .inks
            .iter()
            .map(|ink| {
                let moved = Ink {
                    top: ink.top - down,
                    bottom: ink.bottom - down,
                    ..*ink
                };
                moved.map(size)
            })
            .collect(),
        svg: String::new(),
        top: 0,
        bottom: staff,
    };
    for ink in &setting.inks {
        setting.top = setting.top.min(ink.top);
        setting.bottom = setting.bottom.max(ink.bottom);
    }
    let bars: Vec<(&Measure, &DrawnBar)> = measures.iter().copied().zip(&drawn.bars).collect();
    let mut chords = Vec::new();
    let mut labels = Vec::new();
    for (measure, bar) in &bars {
        chords.extend(chords_of(score, measure, bar, staff)?);
        labels.extend(labels_of(measure, bar, staff)?);
    }
    if let Some(number) = &drawn.number {
        setting.number(number);
    }
    setting.chords(chords);
    setting.labels(&labels);
    let mut opens = None;
    for (place, (measure, bar)) in bars.iter().enumerate() {
        let heading = Heading::of(measure);
        // What is said over a system's first bar begins with the system.
        let left = if place == 0 { 0 } else { size(bar.edges.0) };
        setting.heading(&heading, left);
        opens = opens.or_else(|| heading.exercise());
    }
    let top = setting.top;
    let mut svg = String::with_capacity(drawn.svg.len() + setting.svg.len() + 256);
    let scale = decimal(i64::from(staff), i64::from(STAFF));
    let rise = decimal(
        -i64::from(down) * i64::from(staff) - i64::from(top) * i64::from(STAFF),
        i64::from(STAFF),
    );
    // Writing to a string can't fail.
    let _ = write!(
        svg,
        "<g class=\"staff\" transform=\"translate(0 {rise}) scale({scale})\">\n{}</g>\n\
         <g transform=\"translate(0 {})\">\n{}</g>\n",
        drawn.svg, -top, setting.svg,
    );
    Ok(SetSystem {
        svg,
        glyphs: drawn.glyphs.clone(),
        height: setting.bottom - top,
        opens,
        page: measures
            .first()
            .is_some_and(|measure| measure.begins == Some(Break::Page)),
    })
}

/// The library's units on paper.
fn scaled(units: i32, staff: Hundredths) -> Hundredths {
    let scaled = i64::from(units) * i64::from(staff) / i64::from(STAFF);
    i32::try_from(scaled).unwrap_or(i32::MAX)
}

/// A chord symbol and where it begins.
struct PlacedChord<'a> {
    left: Hundredths,
    symbol: &'a ChordSymbol,
}

fn chords_of<'a>(
    score: &'a Score,
    measure: &Measure,
    bar: &DrawnBar,
    staff: Hundredths,
) -> Result<Vec<PlacedChord<'a>>, EngraveError> {
    let symbols: Vec<&ChordSymbol> = measure
        .elements
        .iter()
        .filter_map(|element| element.written().chord)
        .filter_map(|place| score.chords.get(usize::from(place)))
        .collect();
    if symbols.len() != bar.chords.len() {
        return Err(EngraveError::Drawn(format!(
            "{} chord symbols in bar {} of {}",
            bar.chords.len(),
            measure.number,
            symbols.len(),
        )));
    }
    let placed = symbols.into_iter().zip(&bar.chords);
    Ok(placed
        .map(|(symbol, &x)| PlacedChord {
            left: scaled(x, staff),
            symbol,
        })
        .collect())
}

/// A label, its row, and the middle of the note it stands under.
struct PlacedLabel<'a> {
    row: usize,
    middle: Hundredths,
    text: &'a str,
}

fn labels_of<'a>(
    measure: &'a Measure,
    bar: &DrawnBar,
    staff: Hundredths,
) -> Result<Vec<PlacedLabel<'a>>, EngraveError> {
    let notes: Vec<_> = measure
        .elements
        .iter()
        .filter_map(|element| match element {
            Element::Note(note) => Some(note),
            Element::Slash(slash) => Some(&slash.note),
            Element::Rest(_) => None,
        })
        .collect();
    if notes.len() != bar.notes.len() {
        return Err(EngraveError::Drawn(format!(
            "{} notes in bar {} of {}",
            bar.notes.len(),
            measure.number,
            notes.len(),
        )));
    }
    let mut labels = Vec::new();
    for (note, &middle) in notes.iter().zip(&bar.notes) {
        let middle = scaled(middle, staff);
        let texts = note.lyrics.iter().enumerate();
        labels.extend(texts.filter_map(|(row, text)| {
            let text = text.as_deref()?;
            Some(PlacedLabel { row, middle, text })
        }));
    }
    Ok(labels)
}

/// A system while it is set.
struct Setting {
    staff: Hundredths,
    width: Hundredths,
    inks: Vec<Ink>,
    svg: String,
    top: Hundredths,
    bottom: Hundredths,
}

/// Sizes of what is set, in hundredths of the staff's height.
const CHORD: i32 = 60;
const LABEL: i32 = 47;
const HEADING: i32 = 50;
const NUMBER: i32 = 36;
/// Between ink and what is set over or under it.
const CLEAR: i32 = 16;
/// From the staff to the nearest chord symbol's baseline, and to the nearest
/// label's top.
const OVER: i32 = 45;
const UNDER: i32 = 30;

/// How far letters rise over their baseline and reach below, in hundredths of
/// their size: brackets are the tallest.
const RISE: i32 = 75;
const DEPTH: i32 = 25;

impl Setting {
    fn of_staff(&self, hundredths: i32) -> Hundredths {
        self.staff * hundredths / 100
    }

    /// Sets a line, and remembers its ink.
    fn line(&mut self, line: &Line, left: Hundredths, baseline: Hundredths, size: Hundredths) {
        line.svg(&mut self.svg);
        self.inked(Ink {
            left,
            top: baseline - size * RISE / 100,
            right: left + line.width(),
            bottom: baseline + size * DEPTH / 100,
        });
    }

    fn inked(&mut self, ink: Ink) {
        self.top = self.top.min(ink.top);
        self.bottom = self.bottom.max(ink.bottom);
        self.inks.push(ink);
    }

    /// Over the clef.
    fn number(&mut self, number: &str) {
        let size = self.of_staff(NUMBER);
        let line = Line::new().italic(number).size(size);
        let over = ink::top(&self.inks, 0, line.width()).unwrap_or(0).min(0);
        let baseline = over - self.of_staff(CLEAR) / 2;
        // Figures don't reach below the baseline.
        self.line(
            &line.at(0, baseline),
            0,
            baseline - size * DEPTH / 100,
            size,
        );
    }

    /// In a row; one that would run into the one before stands a little later,
    /// or where that is too far, higher.
    fn chords(&mut self, chords: Vec<PlacedChord<'_>>) {
        let size = self.of_staff(CHORD);
        let gap = size * 40 / 100;
        let mut rows: Vec<(Line, Hundredths, i32)> = Vec::with_capacity(chords.len());
        let mut reach = [i32::MIN / 2; 2];
        for PlacedChord { left, symbol } in chords {
            let line = Line::new().bold(&chord_text(symbol)).size(size);
            let width = line.width();
            let left = left.min(self.width - width).max(0);
            let later = left.max(reach[0] + gap);
            let fits = later - left <= size && later + width <= self.width;
            let (row, left) = if fits {
                (0, later)
            } else {
                (1, left.max(reach[1] + gap))
            };
            reach[row as usize] = left + width;
            rows.push((line, left, row));
        }
        let clear = self.of_staff(CLEAR);
        let over = rows
            .iter()
            .filter_map(|(line, left, _)| {
                ink::top(&self.inks, left - clear, left + line.width() + clear)
            })
            .min();
        let baseline = over.map_or(i32::MAX, |over| over - clear - size * DEPTH / 100);
        let baseline = baseline.min(-self.of_staff(OVER));
        for (line, left, row) in rows {
            let baseline = baseline - row * size * (RISE + DEPTH + 10) / 100;
            self.line(&line.at(left, baseline), left, baseline, size);
        }
    }

    /// In rows under everything else, each under its note.
    fn labels(&mut self, labels: &[PlacedLabel<'_>]) {
        let size = self.of_staff(LABEL);
        let clear = self.of_staff(CLEAR);
        let under = labels
            .iter()
            .filter_map(|label| ink::bottom(&self.inks, label.middle - size, label.middle + size))
            .max();
        let top = (under.unwrap_or(0) + clear).max(self.staff + self.of_staff(UNDER));
        let mut rows: Vec<usize> = labels.iter().map(|label| label.row).collect();
        rows.sort_unstable();
        rows.dedup();
        for (place, row) in (0..).zip(rows) {
            // Capitals and figures rise less than brackets do.
            let baseline = top + size * 68 / 100 + place * size * 118 / 100;
            for label in labels.iter().filter(|label| label.row == row) {
                let line = Line::new().roman(label.text).size(size);
                let left = label.middle - line.width() / 2;
                let line = line.at(label.middle, baseline).anchor(Anchor::Middle);
                self.line(&line, left, baseline, size);
            }
        }
    }

    /// Over everything else that stands there.
    fn heading(&mut self, heading: &Heading, left: Hundredths) {
        let size = self.of_staff(HEADING);
        let lines = heading.lines(left, self.width, size);
        let reach = lines.iter().map(|line| line.right).max();
        let Some(reach) = reach else { return };
        let over = ink::top(&self.inks, left, reach).unwrap_or(0).min(0);
        let step = size * 135 / 100;
        let mut baseline = over - self.of_staff(CLEAR) - size * 32 / 100;
        for line in lines.iter().rev() {
            line.svg(baseline, size, &mut self.svg);
            self.inked(Ink {
                left,
                top: baseline - size * 95 / 100,
                right: line.right,
                bottom: baseline + size * 30 / 100,
            });
            baseline -= step;
        }
    }
}

/// A chord symbol with its accidentals as signs.
pub(crate) fn chord_text(symbol: &ChordSymbol) -> String {
    let suffix = symbol.chord.suffix();
    if symbol.chord.is_none() {
        return suffix.to_owned();
    }
    let mut text = symbol.root.signs();
    let mut letters = suffix.chars().peekable();
    while let Some(letter) = letters.next() {
        text.push(match letter {
            '#' => '♯',
            'b' if letters.peek().is_some_and(char::is_ascii_digit) => '♭',
            other => other,
        });
    }
    if let Some(bass) = symbol.bass {
        text.push('/');
        text.push_str(&bass.signs());
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chord_symbols_have_signs() {
        let check = |typed: &str, expected: &str| {
            let symbol: ChordSymbol = typed.parse().unwrap();
            assert_eq!(chord_text(&symbol), expected);
        };
        check("A7(#11)", "A7(♯11)");
        check("Bbm7b5", "B♭m7(♭5)");
        check("Ebmaj7/Bb", "E♭maj7/B♭");
        check("C#dim7", "C♯dim7");
        check("N.C.", "N.C.");
    }
}
