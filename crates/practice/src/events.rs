//! A performance as the player takes it: JSON of events in ticks, the time
//! they take, and where each note stands on the sheet.

use std::collections::BTreeSet;
use std::fmt::Write;

use rhythm::{Fraction, Meter};
use score::{Element, Measure, Score};
use sound::{
    DEFAULT_TEMPO, DrumPart, Performance, PlainTone, Role, Strike, plain_drums, plain_tone,
};

/// The high and the low wood block (General MIDI percussion), which click.
const CLICKS: [u8; 2] = [76, 77];

/// What a sheet sounds like, played once: `perQuarter`, `end`, `tuning`
/// (hertz), `tempos` ([tick, microseconds to the quarter]), `perMinute` and
/// `beat` (quarters) of its first tempo, `bars` ([tick, name, whether it is
/// counted]), `notes` ([tick, bar, quarters within it]: tied ones too), and
/// `line`, `chords`, `bass`, `drums`, `click` ([onset, end, key, velocity]),
/// and the `voices` of the first three: `partials`, `rise`, `fall`, `decay`,
/// `vibrato` (cents); of what is struck the `kit`: by key `place` and `parts`,
/// of a tone two frequencies, loudness and seconds to 37 %, of noise how often
/// its lows are taken away, and the same two.
pub fn events(performance: &Performance, score: &Score) -> String {
    let mut json = String::with_capacity(32 * 1024);
    // Writing to a string can't fail.
    let _ = write(performance, score, &mut json);
    json
}

fn write(performance: &Performance, score: &Score, json: &mut String) -> std::fmt::Result {
    write!(
        json,
        "{{\"perQuarter\":{},\"end\":{},\"tuning\":{},\"perMinute\":{},\"beat\":\"{}\",\"tempos\":",
        performance.per_quarter,
        performance.end,
        performance.tuning.hertz(),
        per_minute(score),
        beat(score),
    )?;
    list(json, &performance.tempos, |json, (at, each)| {
        write!(json, "[{at},{each}]")
    })?;
    let (bars, notes) = places(performance, score);
    json.push_str(",\"bars\":");
    list(json, &bars, |json, (at, name, counted)| {
        write!(json, "[{at},\"{name}\",{counted}]")
    })?;
    json.push_str(",\"notes\":");
    list(json, &notes, |json, (at, bar, within)| {
        write!(json, "[{at},\"{bar}\",\"{within}\"]")
    })?;
    strikes(performance, json)?;
    voices(performance, json)?;
    json.push_str(",\"kit\":");
    kit(performance, json)?;
    json.push_str("}}");
    Ok(())
}

/// What each voice plays.
fn strikes(performance: &Performance, json: &mut String) -> std::fmt::Result {
    for (name, roles) in [
        ("line", &[Role::Line][..]),
        ("chords", &[Role::Chords, Role::Drone]),
        ("bass", &[Role::Bass]),
        ("drums", &[Role::Drums]),
        ("click", &[Role::Count, Role::Click]),
    ] {
        let mut strikes: Vec<&Strike> = roles
            .iter()
            .flat_map(|role| performance.strikes(*role))
            .collect();
        strikes.sort_by_key(|strike| strike.onset);
        write!(json, ",\"{name}\":")?;
        list(json, &strikes, |json, strike| {
            let Strike {
                onset,
                end,
                key,
                velocity,
                ..
            } = strike;
            write!(json, "[{onset},{end},{key},{velocity}]")
        })?;
    }
    Ok(())
}

/// What the pitched voices sound like.
fn voices(performance: &Performance, json: &mut String) -> std::fmt::Result {
    json.push_str(",\"voices\":{");
    for (place, (name, role)) in [
        ("line", Role::Line),
        ("chords", Role::Chords),
        ("bass", Role::Bass),
    ]
    .into_iter()
    .enumerate()
    {
        let PlainTone {
            partials,
            rise,
            fall,
            decay,
            vibrato,
        } = plain_tone(role, performance.program);
        let comma = if place > 0 { "," } else { "" };
        write!(json, "{comma}\"{name}\":{{\"partials\":")?;
        list(json, &partials, |json, one| write!(json, "{one:.4}"))?;
        write!(
            json,
            ",\"rise\":{rise},\"fall\":{fall},\"decay\":{decay},\"vibrato\":{vibrato}}}"
        )?;
    }
    Ok(())
}

/// The drums that are struck, and the click's.
fn kit(performance: &Performance, json: &mut String) -> std::fmt::Result {
    let struck = [Role::Drums, Role::Count, Role::Click]
        .into_iter()
        .flat_map(|role| performance.strikes(role))
        .map(|strike| strike.key);
    let keys: BTreeSet<u8> = struck.chain(CLICKS).collect();
    let drums = plain_drums();
    for (place, drum) in drums
        .iter()
        .filter(|drum| keys.contains(&drum.key))
        .enumerate()
    {
        let comma = if place > 0 { ',' } else { '{' };
        write!(
            json,
            "{comma}\"{}\":{{\"place\":{},\"parts\":",
            drum.key, drum.place
        )?;
        list(json, &drum.parts, |json, part| match part {
            DrumPart::Tone(from, to, loud, decay) => write!(json, "[{from},{to},{loud},{decay}]"),
            DrumPart::Noise(times, loud, decay) => write!(json, "[{times},{loud},{decay}]"),
        })?;
        json.push('}');
    }
    json.push('}');
    Ok(())
}

fn list<T>(
    json: &mut String,
    all: &[T],
    mut one: impl FnMut(&mut String, &T) -> std::fmt::Result,
) -> std::fmt::Result {
    json.push('[');
    for (place, each) in all.iter().enumerate() {
        if place > 0 {
            json.push(',');
        }
        one(json, each)?;
    }
    json.push(']');
    Ok(())
}

/// What a tempo counts, in quarters: the felt beat of the sheet's first meter.
fn beat(score: &Score) -> Fraction {
    let meter = score
        .part
        .measures
        .iter()
        .find_map(|bar| bar.meter.as_ref());
    meter.map_or(Fraction::ONE, Meter::beat)
}

/// Beats a minute at the sheet's beginning.
fn per_minute(score: &Score) -> u16 {
    let mark = score.part.measures.iter().find_map(Measure::tempo);
    mark.map_or(DEFAULT_TEMPO, |mark| mark.per_minute)
}

/// Tick, name, and whether it is counted.
type Bar = (i64, String, bool);
/// Tick, bar, and quarters from its beginning.
type Note = (i64, String, Fraction);

/// Where bars and written notes begin. Of tied notes each has its own place.
fn places(performance: &Performance, score: &Score) -> (Vec<Bar>, Vec<Note>) {
    let divisions = i64::from(score.divisions.max(1));
    let ticks = |time: i64| time * i64::from(performance.per_quarter) / divisions;
    let measures = &score.part.measures;
    let length: i64 = measures.iter().map(|bar| i64::from(bar.length())).sum();
    let start = i64::from(performance.end) - ticks(length);
    let (mut bars, mut notes) = (Vec::new(), Vec::new());
    let mut sounding = performance.strikes(Role::Line).iter().peekable();
    let mut heard: u32 = 0;
    let mut at = 0;
    for bar in measures {
        let name = bar.label().to_string();
        bars.push((start + ticks(at), name.clone(), !bar.implicit));
        let bar_line = at;
        for element in &bar.elements {
            if let Element::Note(note) = element {
                let mut onset = start + ticks(at);
                if !note.tied_from {
                    let is_own = |strike: &Strike| strike.note.is_none_or(|of| of.note >= heard);
                    while sounding.next_if(|strike| !is_own(strike)).is_some() {}
                    let own = sounding
                        .peek()
                        .filter(|strike| strike.note.is_some_and(|of| of.note == heard));
                    onset = own.map_or(onset, |strike| i64::from(strike.onset));
                    heard += 1;
                }
                notes.push((onset, name.clone(), Fraction::new(at - bar_line, divisions)));
            }
            at += i64::from(element.written().length);
        }
    }
    (bars, notes)
}
