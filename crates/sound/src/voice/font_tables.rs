//! A SoundFont's tables: which preset plays which instruments, and those
//! which samples (SoundFont 2.04 technical specification, section 7). What a
//! table points at is checked here once, so that nothing else has to.

use std::ops::Range;

use crate::FontError;

/// A setting of a zone: which, and its sixteen bits.
pub(crate) type Generator = (u16, u16);

/// The generators that matter here (section 8.1).
const START: u16 = 0;
const END: u16 = 1;
const LOOP_START: u16 = 2;
const LOOP_END: u16 = 3;
const START_COARSE: u16 = 4;
const END_COARSE: u16 = 12;
pub(crate) const INSTRUMENT: u16 = 41;
const LOOP_START_COARSE: u16 = 45;
const LOOP_END_COARSE: u16 = 50;
pub(crate) const SAMPLE: u16 = 53;
const LOOPED: u16 = 54;

/// Drums' bank.
pub(crate) const DRUMS: u16 = 128;

/// A preset or an instrument: its record, and its zones' generators.
#[derive(Debug)]
pub(crate) struct Sound {
    /// The record as it stands in the file, up to where its zones begin.
    pub record: Vec<u8>,
    /// What stands after that.
    pub rest: Vec<u8>,
    pub zones: Vec<Vec<Generator>>,
}

/// A sample's record.
#[derive(Debug, Clone)]
pub(crate) struct Sample {
    pub name: Vec<u8>,
    /// Start, end, start of the loop and its end, in samples.
    pub places: [u32; 4],
    /// Rate, pitch, and what it is.
    pub rest: Vec<u8>,
}

/// All of them.
#[derive(Debug)]
pub(crate) struct Tables {
    pub presets: Vec<Sound>,
    pub instruments: Vec<Sound>,
    pub samples: Vec<Sample>,
}

impl Tables {
    /// Reads what stands in the list `pdta`.
    ///
    /// # Errors
    /// Tables that are missing, or that point past one another.
    pub(crate) fn read(list: &[u8]) -> Result<Tables, FontError> {
        let called = |name: &[u8; 4]| find(list, name).ok_or_else(damaged);
        let presets = sounds(called(b"phdr")?, 38, 24, called(b"pbag")?, called(b"pgen")?)?;
        let instruments = sounds(called(b"inst")?, 22, 20, called(b"ibag")?, called(b"igen")?)?;
        let mut samples: Vec<Sample> = table(called(b"shdr")?, 46)?.map(sample).collect();
        samples.pop();
        let within = |sounds: &[Sound], kind: u16, count: usize| {
            let all = sounds.iter().flat_map(|sound| sound.zones.iter().flatten());
            let mut named = all.filter(|(generator, _)| *generator == kind);
            named.all(|(_, place)| usize::from(*place) < count)
        };
        if presets.is_empty()
            || !within(&presets, INSTRUMENT, instruments.len())
            || !within(&instruments, SAMPLE, samples.len())
        {
            return Err(damaged());
        }
        Ok(Tables {
            presets,
            instruments,
            samples,
        })
    }

    /// The preset of a bank with a program's number, from 0.
    pub(crate) fn preset(&self, bank: u16, program: u16) -> Option<usize> {
        let mut from_last = self.presets.iter().rev();
        let found = from_last.position(|preset| preset.id() == (bank, program))?;
        Some(self.presets.len() - 1 - found)
    }

    /// What stands in for one that is missing: the first of the lowest bank.
    pub(crate) fn usual(&self) -> usize {
        let numbered = self.presets.iter().enumerate();
        let least = numbered.min_by_key(|(_, preset)| preset.id());
        least.map_or(0, |(place, _)| place)
    }

    /// Whether any preset lies in a bank.
    pub(crate) fn has_bank(&self, bank: u16) -> bool {
        self.presets.iter().any(|preset| preset.id().0 == bank)
    }

    /// From where to where in the file's samples an instrument's zone plays;
    /// none where that can't be.
    pub(crate) fn reach(&self, zone: &[Generator], global: &[Generator]) -> Option<Range<u64>> {
        let sample = self.samples.get(usize::from(value(zone, SAMPLE)?))?;
        let set = |kind| value(zone, kind).or(value(global, kind)).unwrap_or(0);
        let moved = |place: usize, fine: u16, coarse: u16| {
            let by = |kind| i64::from(set(kind) as i16);
            i64::from(sample.places[place]) + by(fine) + 32_768 * by(coarse)
        };
        let mut places = vec![
            sample.places[0].into(),
            sample.places[1].into(),
            moved(0, START, START_COARSE),
            moved(1, END, END_COARSE),
        ];
        // where nothing is looped, its places may say anything
        if set(LOOPED) % 2 == 1 {
            places.extend([
                sample.places[2].into(),
                sample.places[3].into(),
                moved(2, LOOP_START, LOOP_START_COARSE),
                moved(3, LOOP_END, LOOP_END_COARSE),
            ]);
        }
        let low = places.iter().min()?;
        let high = places.iter().max()?;
        Some((*low).try_into().ok()?..(*high).try_into().ok()?)
    }
}

impl Sound {
    /// A preset's bank and program.
    fn id(&self) -> (u16, u16) {
        (number(&self.record, 22), number(&self.record, 20))
    }
}

/// A chunk of a list by its name.
fn find<'a>(mut list: &'a [u8], name: &[u8; 4]) -> Option<&'a [u8]> {
    loop {
        let (called, rest) = list.split_at_checked(4)?;
        let (size, rest) = rest.split_at_checked(4)?;
        let size = u32::from_le_bytes(size.try_into().ok()?) as usize;
        let (inside, rest) = rest.split_at_checked(size)?;
        if called == name {
            return Some(inside);
        }
        // chunks begin on even bytes
        list = rest.get(size % 2..)?;
    }
}

/// What a zone sets, the last word counting.
pub(crate) fn value(zone: &[Generator], kind: u16) -> Option<u16> {
    let mut set = zone.iter().rev();
    set.find(|(generator, _)| *generator == kind)
        .map(|(_, value)| *value)
}

/// Records with their zones; `at` is where a record says its first. Each
/// table ends with a record that only says where the one before it ends.
fn sounds(
    records: &[u8],
    size: usize,
    at: usize,
    bags: &[u8],
    generators: &[u8],
) -> Result<Vec<Sound>, FontError> {
    let generators: Vec<Generator> = table(generators, 4)?
        .map(|one| (number(one, 0), number(one, 2)))
        .collect();
    let zones: Vec<Vec<Generator>> = spans(table(bags, 4)?.map(|bag| number(bag, 0)))
        .map(|span| generators.get(span).map(<[Generator]>::to_vec))
        .collect::<Option<_>>()
        .ok_or_else(damaged)?;
    let spans = spans(table(records, size)?.map(|record| number(record, at)));
    let sounds = table(records, size)?.zip(spans);
    sounds
        .map(|(record, span)| {
            Ok(Sound {
                record: record[..at].to_vec(),
                rest: record[at + 2..].to_vec(),
                zones: zones.get(span).ok_or_else(damaged)?.to_vec(),
            })
        })
        .collect()
}

/// From each number to the one after it.
fn spans(numbers: impl Iterator<Item = u16>) -> impl Iterator<Item = Range<usize>> {
    let numbers: Vec<usize> = numbers.map(usize::from).collect();
    (1..numbers.len()).map(move |next| numbers[next - 1]..numbers[next])
}

fn sample(record: &[u8]) -> Sample {
    let place = |at: usize| u32::from(number(record, at)) | u32::from(number(record, at + 2)) << 16;
    let part = |from: usize, to: usize| record.get(from..to).unwrap_or_default();
    Sample {
        name: part(0, 20).to_vec(),
        places: [20, 24, 28, 32].map(place),
        rest: part(36, 46).to_vec(),
    }
}

/// A table's records, the one that ends it among them.
fn table(bytes: &[u8], size: usize) -> Result<impl Iterator<Item = &[u8]>, FontError> {
    if bytes.is_empty() || !bytes.len().is_multiple_of(size) {
        return Err(damaged());
    }
    Ok(bytes.chunks_exact(size))
}

/// Sixteen bits of a record.
fn number(record: &[u8], at: usize) -> u16 {
    let byte = |at: usize| record.get(at).copied().unwrap_or(0);
    u16::from_le_bytes([byte(at), byte(at + 1)])
}

pub(crate) fn damaged() -> FontError {
    FontError("its tables are damaged".to_owned())
}
