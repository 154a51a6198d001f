//! Sheets of the shipped lessons, written as files and read back.

use etude::Composer;
use lesson::Named;
use reader::Selection;
use score::sounding_notes;

use crate::made::shipped;

/// Whole sheets of the shipped lessons, written as files and read back: the
/// same notes, written and sounding.
#[test]
fn sheets_are_read_back() {
    let mut sheets = 0;
    for (file, lesson) in shipped() {
        let composer = Composer::new(&lesson).unwrap();
        for plan in composer.plans().iter().step_by(5) {
            let Ok(sheet) = composer.compose(plan) else {
                continue;
            };
            let mut bytes = Vec::new();
            writer::musicxml(&sheet.score, &mut bytes);
            let packed = writer::mxl(&bytes, "sheet.musicxml").unwrap();
            let expected = sounding_notes(&sheet.score);
            for named in [Named::Concert, Named::Written] {
                let asked = Selection {
                    part: None,
                    named,
                    ..Selection::default()
                };
                let reading = reader::phrase(&packed, &asked, None).unwrap();
                // Answering bars are slashes on the sheet: no notes of anyone's.
                let slashes = "slashes were taken as silence";
                let changes = "the meter changes";
                let guessed = reading.warnings.iter().find(|warning| {
                    warning.message != slashes && !warning.message.starts_with(changes)
                });
                assert_eq!(guessed, None, "{}", file.display());
                let first = reading.value.pickup;
                let found: Vec<_> = reading
                    .value
                    .notes
                    .iter()
                    .filter_map(|note| Some((note.onset + first, note.length, note.pitch?)))
                    .collect();
                let expected: Vec<_> = expected
                    .iter()
                    .map(|note| {
                        let pitch = if named == Named::Concert {
                            note.sounding
                        } else {
                            note.written
                        };
                        (note.onset, note.length, pitch)
                    })
                    .collect();
                assert_eq!(found, expected, "{} {}", file.display(), plan.number);
                sheets += 1;
            }
        }
    }
    assert!(sheets > 40, "{sheets}");
}
