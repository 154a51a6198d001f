//! Changes from a lead sheet.

use lesson::{Bar, Changes, Section};

use crate::choice::choose;
use crate::chord_place::placed;
use crate::file::score;
use crate::grid::grid;
use crate::part::{About, BarLines};
use crate::route::{Signed, route};
use crate::section::{self, Lined, sections};
use crate::warnings::gathered;
use crate::{Asked, ReadError, Reading};

/// Reads the chords of a MusicXML file (2.0 to 4.0, by part or by time, plain
/// or `.mxl`), with repeats and endings.
///
/// A file without chord symbols gives bars without chords and a warning.
///
/// # Errors
/// The one thing that cannot be read, with its place.
pub fn changes(bytes: &[u8], asked: &Asked) -> Result<Reading<Changes>, ReadError> {
    let (document, mut warnings) = score(bytes, asked.named)?;
    let title = document.title.clone();
    let has_chords = |part: &crate::part::Part| {
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
    let signed: Vec<Signed<'_>> = part
        .measures
        .iter()
        .map(|measure| Signed {
            signs: &measure.signs,
            lines: &measure.lines,
            number: &measure.number,
        })
        .collect();
    let route = route(&signed, &mut told);
    let marked = part
        .measures
        .iter()
        .zip(bars)
        .zip(chords)
        .map(|((measure, bar), chords)| Lined {
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
    let mut lined: Vec<Lined> = marked.collect();
    // The second time nothing is repeated.
    let again = |at: &usize| Lined {
        bar: lined[*at].bar.clone(),
        lines: BarLines::default(),
        mark: lined[*at].mark.clone(),
    };
    let then: Vec<Lined> = route.then.iter().map(again).collect();
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
        |about| about != About::Line,
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
