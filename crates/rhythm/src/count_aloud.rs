//! Saying a rhythm aloud: from notes and silences to the words of a count.
//! What is said is read back: only words that give the very rhythm leave this
//! file.

use crate::{Count, CountWord, Counting, Fraction, Meter, NoWords, Sound, count_word};

impl Count {
    /// Says a rhythm aloud: the text of a count that reads back as these notes
    /// and silences, without gaps, and as silence from there to the bar line
    /// where the figure's last bar ends. A first onset before the bar line is a
    /// pickup.
    ///
    /// # Errors
    /// The first place that has no words.
    pub fn aloud(sounds: &[Sound], meter: &Meter) -> Result<String, NoWords> {
        let sounds = whole(sounds, meter).ok_or(NoWords::NoFigure)?;
        let said = said(&sounds, meter);
        mixed(&said, meter)?;
        let said_so = |said: &[SpokenCount]| {
            let text = text(said, meter)?;
            let read = Count::read(&text, meter, None).map_err(|_| NoWords::NoFigure)?;
            Ok(Some(text).filter(|_| same(&sounds, &read)))
        };
        match said_so(&said)? {
            Some(text) => Ok(text),
            None => said_so(&beyond_the_beats(said, meter))?.ok_or(NoWords::NoFigure),
        }
    }
}

/// A count to be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct SpokenCount {
    at: Fraction,
    silent: bool,
    /// SpokenCount while what came before goes on.
    held: bool,
}

/// `1 & a 2` would count the beats of 6/8; `1 & a 2-3` counts its eighths: one
/// number more than there are beats, said while the last sound goes on.
fn beyond_the_beats(mut said: Vec<SpokenCount>, meter: &Meter) -> Vec<SpokenCount> {
    if let Some(last) = said.last().copied() {
        let bar_line = (last.at / meter.bar()).floor() * meter.bar();
        let beyond = bar_line + meter.unit() * meter.groups().len() as i64;
        if beyond > last.at {
            said.push(SpokenCount {
                at: beyond,
                silent: last.silent,
                held: !last.silent,
            });
        }
    }
    said
}

/// The sounds without a pickup in which nothing sounds.
fn from_the_first_note(sounds: &[Sound]) -> impl Iterator<Item = Sound> + '_ {
    let pickup = sounds
        .iter()
        .take_while(|sound| sound.onset < Fraction::ZERO);
    let from = match sounds.first() {
        Some(first) if pickup.into_iter().any(|sound| !sound.silent) => first.onset,
        _ => Fraction::ZERO,
    };
    sounds.iter().filter_map(move |sound| {
        let (onset, end) = (sound.onset.max(from), sound.onset + sound.length);
        (end > onset).then_some(Sound {
            onset,
            length: end - onset,
            silent: sound.silent,
        })
    })
}

/// The sounds with neighbouring silences joined, and silence up to where the
/// figure's last bar ends.
fn whole(sounds: &[Sound], meter: &Meter) -> Option<Vec<Sound>> {
    let mut whole: Vec<Sound> = Vec::with_capacity(sounds.len() + 1);
    for sound in from_the_first_note(sounds) {
        match whole.last_mut() {
            Some(last) if last.silent && sound.silent => last.length += sound.length,
            _ => whole.push(sound),
        }
    }
    let (first, last) = (whole.first()?, whole.last()?);
    let (pickup, end) = ((-first.onset).max(Fraction::ZERO), last.onset + last.length);
    let bar = meter.bar();
    let mut line = (end / bar).ceil().max(Fraction::ONE) * bar;
    // A note that sounds through the next pickup's place takes another bar.
    if !last.silent && end == line && pickup > Fraction::ZERO {
        line += bar;
    }
    if line > end {
        let rest = Sound {
            onset: end,
            length: line - end,
            silent: true,
        };
        match whole.last_mut().filter(|last| last.silent) {
            Some(last) => last.length += rest.length,
            None => whole.push(rest),
        }
    }
    Some(whole)
}

/// What is said: where notes and silences begin, every bar line that they go
/// across, and the number whose part comes next.
fn said(sounds: &[Sound], meter: &Meter) -> Vec<SpokenCount> {
    let unit = meter.unit();
    // A part with no number before it belongs to the one before the next
    // number, so that is said too.
    let after_first = sounds
        .first()
        .map(|first| first.onset / unit)
        .filter(|first| !first.is_integer())
        .map(|first| (first.floor() + 1) * unit);
    let mut all = Vec::with_capacity(sounds.len());
    for sound in sounds {
        let Sound {
            onset,
            length,
            silent,
        } = *sound;
        let end = onset + length;
        let mut places = vec![onset];
        let mut line = (onset / meter.bar()).floor() * meter.bar();
        while line < end {
            places.push(line);
            line += meter.bar();
        }
        places.push((end / unit).floor() * unit);
        places.extend(after_first);
        places.retain(|at| onset <= *at && *at < end);
        places.sort_unstable();
        places.dedup();
        all.extend(places.into_iter().map(|at| SpokenCount {
            at,
            silent,
            held: !silent && at > onset,
        }));
    }
    all
}

/// No number is counted both in thirds and in halves or quarters.
fn mixed(said: &[SpokenCount], meter: &Meter) -> Result<(), NoWords> {
    let parts = |said: &SpokenCount| {
        let word = count_word(meter, said.at, Counting::default())?;
        let thirds = matches!(word, CountWord::Trip | CountWord::Let);
        let number = (said.at / meter.unit()).floor();
        (!matches!(word, CountWord::Number(_))).then_some((number, thirds))
    };
    let mut before: Option<(Fraction, bool)> = None;
    for one in said {
        let Some((number, thirds)) = parts(one) else {
            continue;
        };
        if before.is_some_and(|(same, other)| same == number && other != thirds) {
            return Err(NoWords::Mixed(one.at));
        }
        before = Some((number, thirds));
    }
    Ok(())
}

/// The words with bar lines, parentheses and hyphens.
fn text(said: &[SpokenCount], meter: &Meter) -> Result<String, NoWords> {
    let bar_of = |said: &SpokenCount| (said.at / meter.bar()).floor();
    let mut text = String::new();
    let mut before: Option<&SpokenCount> = None;
    for one in said {
        let lines = before.map_or(Fraction::ZERO, |before| bar_of(one) - bar_of(before));
        let was_silent = before.is_some_and(|before| before.silent);
        let crosses = lines > Fraction::ZERO;
        if was_silent && (crosses || !one.silent) {
            text.push(')');
        }
        if crosses {
            text.push_str(" |");
        }
        if before.is_some() && (crosses || !one.held) {
            text.push(' ');
        }
        if one.held {
            text.push('-');
        }
        if one.silent && (crosses || !was_silent) {
            text.push('(');
        }
        let word = count_word(meter, one.at, Counting::default());
        text.push_str(&word.ok_or(NoWords::Between(one.at))?.to_string());
        before = Some(one);
    }
    if before.is_some_and(|before| before.silent) {
        text.push(')');
    }
    Ok(text)
}

/// Whether a count gives these sounds: silence at its end stops for the next
/// pickup, or goes on to the last bar line.
fn same(sounds: &[Sound], read: &Count) -> bool {
    let mut slots: Vec<Sound> = Vec::with_capacity(read.slots.len() + 1);
    for slot in &read.slots {
        match slots.last_mut() {
            Some(last) if last.silent && slot.silent => last.length += slot.length,
            _ => slots.push(Sound {
                onset: slot.onset,
                length: slot.length,
                silent: slot.silent,
            }),
        }
    }
    let end = read.length - read.pickup;
    if read.closes_with_rest && slots.last().is_some_and(|last| !last.silent) {
        slots.push(Sound {
            onset: end,
            length: read.pickup,
            silent: true,
        });
    }
    match (slots.split_last(), sounds.split_last()) {
        (Some((rest, slots)), Some((last, sounds))) if last.silent => {
            slots == sounds && rest.silent && rest.onset == last.onset
        }
        _ => slots == sounds,
    }
}
