//! The line as written: every note its whole length, in sounding pitch, a
//! little stronger on the bar line and on the strong beats. Staccato notes are
//! half as long, accented ones stronger (common practice); tenuto and slurred
//! notes have the whole length that every note has.

use rhythm::Meter;

use crate::form::Passage;
use crate::sheet::{Bar, Sheet};
use crate::{NoteOf, Strike, Touch};

const BAR_VELOCITY: u8 = 92;
const STRONG_VELOCITY: u8 = 86;
const VELOCITY: u8 = 80;
/// What an accent adds.
const ACCENT: u8 = 22;

/// Plays a passage's notes, and says their labels with their times.
pub(crate) fn line(
    passage: &Passage<'_>,
    strikes: &mut Vec<Strike>,
    lyrics: &mut Vec<(u32, String)>,
) {
    let sheet = &passage.timeline.sheet;
    let from = sheet
        .tones
        .partition_point(|tone| tone.start < passage.from);
    let mut strong = Strong::default();
    for tone in sheet.tones[from..]
        .iter()
        .take_while(|tone| tone.start < passage.to.min(passage.until))
    {
        let velocity = sheet
            .bar_at(tone.start)
            .map_or(VELOCITY, |bar| strong.velocity(sheet, bar, tone.start));
        let velocity = velocity + if tone.marks.accent { ACCENT } else { 0 };
        let onset = passage.played(tone.start);
        let whole = passage.played(tone.end.min(passage.to).min(passage.until));
        let end = if tone.marks.staccato {
            onset + (whole - onset) / 2
        } else {
            whole
        };
        let touch = match tone.marks {
            marks if marks.staccato => Touch::Staccato,
            _ if tone.slurred => Touch::Slurred,
            marks if marks.tenuto => Touch::Tenuto,
            _ => Touch::Plain,
        };
        let note = NoteOf {
            sheet: passage.sheet as u16,
            note: tone.number,
        };
        let played = Strike::of(onset, end, tone.key, velocity);
        let played = played.map(|strike| Strike {
            touch,
            note: Some(note),
            ..strike
        });
        if let Some(strike) = played {
            let said = tone.lyrics.iter().flatten();
            lyrics.extend(said.map(|text| (strike.onset, text.to_string())));
            strikes.push(strike);
        }
    }
}

/// The strong beats of the meter met last, in the sheet's ticks.
#[derive(Debug, Default)]
struct Strong<'a> {
    meter: Option<&'a Meter>,
    beats: Vec<u64>,
}

impl<'a> Strong<'a> {
    fn velocity(&mut self, sheet: &Sheet<'a>, bar: &Bar<'a>, at: u64) -> u8 {
        let within = at - bar.start + bar.missing(sheet.divisions);
        if within == 0 {
            return BAR_VELOCITY;
        }
        if self.meter != bar.meter {
            self.meter = bar.meter;
            let beats = bar.meter.map(Meter::strong_beats).unwrap_or_default();
            self.beats = beats
                .into_iter()
                .filter_map(|beat| sheet.whole_ticks(beat))
                .collect();
        }
        if self.beats.contains(&within) {
            STRONG_VELOCITY
        } else {
            VELOCITY
        }
    }
}
