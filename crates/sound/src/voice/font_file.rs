//! A SoundFont as it lies in its file: tables read, samples left where they
//! are until a preset is wanted. A font of hundreds of megabytes then takes
//! the memory of the few sounds that are played.

use std::collections::BTreeMap;
use std::io::{Read, Seek, SeekFrom};
use std::ops::Range;

use super::font_tables::{Generator, INSTRUMENT, SAMPLE, Sound, Tables, damaged, value};
use crate::FontError;

/// Where a font is read from.
pub trait FontSource: Read + Seek + Send {}

impl<T: Read + Seek + Send> FontSource for T {}

/// An open font.
pub(crate) struct FontFile {
    source: Box<dyn FontSource>,
    /// The bytes of the file that hold its samples.
    wave: Range<u64>,
    pub tables: Tables,
}

/// More than all tables of a font can take, since their places are counted in
/// sixteen bits.
const MOST_TABLES: u64 = 16 << 20;

impl FontFile {
    /// Reads what a font says of itself.
    ///
    /// # Errors
    /// What is wrong with it, in words.
    pub(crate) fn read(mut source: Box<dyn FontSource>) -> Result<FontFile, FontError> {
        let end = source.seek(SeekFrom::End(0)).map_err(unreadable)?;
        let mut head = [0; 12];
        let known = end >= 12 && {
            read_at(&mut source, 0, &mut head)?;
            &head[..4] == b"RIFF" && &head[8..] == b"sfbk"
        };
        if !known {
            return Err(fault("it is not a SoundFont file"));
        }
        let (mut wave, mut tables) = (None, None);
        let mut at = 12;
        while at < end && (wave.is_none() || tables.is_none()) {
            let (_, list) = chunk(&mut source, at, end)?;
            let mut name = [0; 4];
            if list.end - list.start >= 4 {
                read_at(&mut source, list.start, &mut name)?;
            }
            let inside = list.start + 4..list.end;
            match &name {
                b"sdta" => wave = Some(samples(&mut source, inside)?),
                b"pdta" if inside.end - inside.start <= MOST_TABLES => {
                    let mut bytes = vec![0; (inside.end - inside.start) as usize];
                    read_at(&mut source, inside.start, &mut bytes)?;
                    tables = Some(Tables::read(&bytes)?);
                }
                _ => {}
            }
            at = list.end + list.end % 2;
        }
        Ok(FontFile {
            source,
            wave: wave.ok_or_else(cut_short)?,
            tables: tables.ok_or_else(cut_short)?,
        })
    }

    /// A font of one preset alone, with the samples it may play.
    ///
    /// # Errors
    /// A preset whose samples lie outside the file's, or a file that can't be
    /// read any more.
    pub(crate) fn cut(&mut self, preset: usize) -> Result<Vec<u8>, FontError> {
        let tables = &self.tables;
        let preset = tables.presets.get(preset).ok_or_else(damaged)?;
        let mut instruments = Renumbering::default();
        let zones = instruments.renumber(&preset.zones, INSTRUMENT);
        let mut samples = Renumbering::default();
        let mut played = Vec::new();
        let mut reaches: Vec<Range<u64>> = Vec::new();
        for place in &instruments.places {
            let instrument = &tables.instruments[usize::from(*place)];
            let global = global(instrument);
            for zone in &instrument.zones {
                if value(zone, SAMPLE).is_some() {
                    let reach = tables.reach(zone, global).ok_or_else(damaged)?;
                    reaches.push(reach);
                }
            }
            played.push((instrument, samples.renumber(&instrument.zones, SAMPLE)));
        }
        let total = (self.wave.end - self.wave.start) / 2;
        for reach in &mut reaches {
            if reach.end >= total {
                return Err(fault("its samples are damaged"));
            }
            // between two samples the player takes from both
            reach.end = total.min(reach.end + 2);
        }
        let pieces = united(reaches);
        let headers: Vec<u8> = samples
            .places
            .iter()
            .flat_map(|place| {
                let sample = &tables.samples[usize::from(*place)];
                let moved = sample.places.map(|place| moved(&pieces, place));
                let places = moved.into_iter().flat_map(u32::to_le_bytes);
                let name = sample.name.iter().copied();
                name.chain(places).chain(sample.rest.iter().copied())
            })
            .chain([0; 46])
            .collect();
        let wave = samples_of(&mut self.source, self.wave.start, &pieces)?;
        let lists = [
            list(b"INFO", &[chunk_of(b"ifil", &[2, 0, 4, 0])]),
            list(b"sdta", &[chunk_of(b"smpl", &wave)]),
            list(
                b"pdta",
                &[
                    sounds([b"phdr", b"pbag", b"pgen"], &[(preset, zones)]),
                    sounds([b"inst", b"ibag", b"igen"], &played),
                    chunk_of(b"shdr", &headers),
                ],
            ),
        ];
        let all = [b"sfbk".as_slice(), &lists.concat()].concat();
        Ok(chunk_of(b"RIFF", &all))
    }
}

/// Places of a table in the order in which they were met, and their new ones.
#[derive(Default)]
struct Renumbering {
    new: BTreeMap<u16, u16>,
    places: Vec<u16>,
}

impl Renumbering {
    fn renumber(&mut self, zones: &[Vec<Generator>], kind: u16) -> Vec<Vec<Generator>> {
        let mut one = |(generator, place): &Generator| {
            if *generator != kind {
                return (*generator, *place);
            }
            let next = self.places.len() as u16;
            let new = *self.new.entry(*place).or_insert(next);
            if new == next {
                self.places.push(*place);
            }
            (*generator, new)
        };
        zones
            .iter()
            .map(|zone| zone.iter().map(&mut one).collect())
            .collect()
    }
}

/// What an instrument's first zone sets for all, where it plays nothing.
fn global(instrument: &Sound) -> &[Generator] {
    let first = instrument.zones.first().map_or(&[][..], |zone| zone);
    match value(first, SAMPLE) {
        None => first,
        Some(_) => &[],
    }
}

/// Ranges in order, those that meet made one.
fn united(mut ranges: Vec<Range<u64>>) -> Vec<Range<u64>> {
    ranges.sort_unstable_by_key(|range| range.start);
    let mut united: Vec<Range<u64>> = Vec::new();
    for range in ranges {
        match united.last_mut() {
            Some(last) if range.start <= last.end => last.end = last.end.max(range.end),
            _ => united.push(range),
        }
    }
    united
}

/// The samples of some pieces, one after the other; those of the file begin
/// at a byte.
fn samples_of(
    source: &mut Box<dyn FontSource>,
    begin: u64,
    pieces: &[Range<u64>],
) -> Result<Vec<u8>, FontError> {
    let samples: u64 = pieces.iter().map(|piece| piece.end - piece.start).sum();
    let mut bytes = vec![0; 2 * samples as usize];
    let mut rest = bytes.as_mut_slice();
    for piece in pieces {
        let (into, after) = rest.split_at_mut(2 * (piece.end - piece.start) as usize);
        read_at(source, begin + 2 * piece.start, into)?;
        rest = after;
    }
    // silence after the last, which the player wants
    bytes.extend([0; 92]);
    Ok(bytes)
}

/// Where a sample of the file lies among pieces that stand one after the
/// other. Only what a zone reaches is asked for; anything else lies nowhere.
fn moved(pieces: &[Range<u64>], place: u32) -> u32 {
    let place = u64::from(place);
    let mut before = 0;
    for piece in pieces {
        if (piece.start..=piece.end).contains(&place) {
            return (before + place - piece.start) as u32;
        }
        before += piece.end - piece.start;
    }
    0
}

/// The bytes of a chunk.
fn chunk_of(name: &[u8; 4], inside: &[u8]) -> Vec<u8> {
    let size = (inside.len() as u32).to_le_bytes();
    [name.as_slice(), &size, inside].concat()
}

fn list(name: &[u8; 4], chunks: &[Vec<u8>]) -> Vec<u8> {
    chunk_of(b"LIST", &[name.as_slice(), &chunks.concat()].concat())
}

/// Three tables: records, where their zones begin, and what those set; each
/// with the record that ends it.
fn sounds(names: [&[u8; 4]; 3], sounds: &[(&Sound, Vec<Vec<Generator>>)]) -> Vec<u8> {
    let (mut records, mut bags, mut generators) = (Vec::new(), Vec::new(), Vec::new());
    let mut zones = 0u16;
    for (sound, own) in sounds {
        records.extend(&sound.record);
        records.extend(zones.to_le_bytes());
        records.extend(&sound.rest);
        for zone in own {
            bags.extend(((generators.len() / 4) as u16).to_le_bytes());
            bags.extend([0, 0]);
            for (generator, value) in zone {
                generators.extend(generator.to_le_bytes());
                generators.extend(value.to_le_bytes());
            }
        }
        zones += own.len() as u16;
    }
    if let Some((last, _)) = sounds.last() {
        records.extend(vec![0; last.record.len()]);
        records.extend(zones.to_le_bytes());
        records.extend(vec![0; last.rest.len()]);
    }
    bags.extend(((generators.len() / 4) as u16).to_le_bytes());
    bags.extend([0, 0]);
    generators.extend([0; 4]);
    [
        chunk_of(names[0], &records),
        chunk_of(names[1], &bags),
        chunk_of(names[2], &generators),
    ]
    .concat()
}

/// Where the samples lie in the list that holds them.
fn samples(source: &mut Box<dyn FontSource>, list: Range<u64>) -> Result<Range<u64>, FontError> {
    let mut at = list.start;
    while at < list.end {
        let (name, inside) = chunk(source, at, list.end)?;
        if &name == b"smpl" {
            let mut first = [0; 4];
            if inside.end - inside.start >= 4 {
                read_at(source, inside.start, &mut first)?;
            }
            if &first == b"OggS" {
                return Err(fault(
                    "its samples are compressed, as in version 3: it must be of version 2",
                ));
            }
            return Ok(inside);
        }
        at = inside.end + inside.end % 2;
    }
    Err(cut_short())
}

/// A chunk's name, and where what it holds lies.
fn chunk(
    source: &mut Box<dyn FontSource>,
    at: u64,
    end: u64,
) -> Result<([u8; 4], Range<u64>), FontError> {
    if end.saturating_sub(at) < 8 {
        return Err(cut_short());
    }
    let mut head = [0; 8];
    read_at(source, at, &mut head)?;
    let [a, b, c, d, size @ ..] = head;
    let inside = at + 8..at + 8 + u64::from(u32::from_le_bytes(size));
    if inside.end > end {
        return Err(cut_short());
    }
    Ok(([a, b, c, d], inside))
}

fn read_at(source: &mut Box<dyn FontSource>, at: u64, into: &mut [u8]) -> Result<(), FontError> {
    source
        .seek(SeekFrom::Start(at))
        .and_then(|_| source.read_exact(into))
        .map_err(unreadable)
}

fn unreadable(error: std::io::Error) -> FontError {
    FontError(format!("it can't be read: {error}"))
}

fn cut_short() -> FontError {
    fault("it is cut short")
}

fn fault(what: &str) -> FontError {
    FontError(what.to_owned())
}

impl std::fmt::Debug for FontFile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("FontFile")
            .field("wave", &self.wave)
            .finish_non_exhaustive()
    }
}
