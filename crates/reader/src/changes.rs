//! Changes from a lead sheet.

use lesson::{Bar, Changes, PlacedChord, Section};

use crate::choice::choose;
use crate::chord_place::placed;
use crate::file::score;
use crate::grid::{GridBar, grid};
use crate::part::{BarLines, Concern, Part};
use crate::route::{RouteBar, route};
use crate::section::{self, SectionBar, sections};
use crate::warnings::gathered;
use crate::{ReadError, Reading, Selection};

/// Reads the chords of a MusicXML file (2.0 to 4.0, by part or by time, plain
/// or `.mxl`), with repeats and endings.
///
/// A file without chord symbols gives bars without chords and a warning.
///
/// # Errors
/// The one thing that cannot be read, with its place.
pub fn changes(bytes: &[u8], asked: &Selection) -> Result<Reading<Changes>, ReadError> {
    let (document, mut warnings) = score(bytes, asked.named)?;
    let title = document.title.clone();
    let has_chords = |part: &Part| {
        part.measures
            .iter()
            .any(|measure| !measure.chords.is_empty())
    };
    let (mut part, chosen) = choose(document, asked.part.as_deref(), has_chords, "chord symbols")?;
    if let Some((_, fault)) = part.fault {
        return Err(fault);
    }
    warnings.extend(chosen);
    let (bars, mut told) = grid(&part);
    if !has_chords(&part) {
        warnings.push(crate::Warning {
            place: crate::Place::default(),
            message: "there are no chord symbols".to_owned(),
        });
    }
    let chords = placed(&mut part, &bars, &mut told);
    let signed = signed(&part);
    let route = route(&signed, &mut told);
    let mut lined = lined(&part, bars, chords);
    // The second time nothing is repeated.
    let again = |at: &usize| SectionBar {
        bar: lined[*at].bar.clone(),
        lines: BarLines::default(),
        mark: lined[*at].mark.clone(),
    };
    let then: Vec<SectionBar> = route.then.iter().map(again).collect();
    lined.truncate(route.first.end);
    let mut sections: Vec<Section> = sections(lined, &mut told);
    sections.extend(section::sections(then, &mut told));
    let told = std::mem::take(&mut part.warnings)
        .into_iter()
        .chain(told)
        .collect();
    warnings.extend(gathered(
        told,
        &part,
        |about| about != Concern::Line,
        0..part.measures.len(),
    ));
    let value = Changes {
        title,
        key: part.key,
        named: asked.named,
        sections,
    };
    Ok(Reading { value, warnings })
}

/// What each measure says of the way through the piece.
fn signed(part: &Part) -> Vec<RouteBar<'_>> {
    let measures = part.measures.iter();
    let bars = measures.map(|measure| RouteBar {
        signs: &measure.signs,
        lines: &measure.lines,
        number: &measure.number,
    });
    bars.collect()
}

/// Bars with their chords, their bar lines and their marks.
fn lined(part: &Part, bars: Vec<GridBar>, chords: Vec<Vec<PlacedChord>>) -> Vec<SectionBar> {
    let measures = part.measures.iter().zip(bars).zip(chords);
    let lined = measures.map(|((measure, bar), chords)| SectionBar {
        bar: Bar {
            number: measure.number.clone(),
            meter: bar.meter,
            from: bar.from,
            length: bar.length,
            chords,
        },
        lines: measure.lines.clone(),
        mark: measure.mark.clone(),
    });
    lined.collect()
}
