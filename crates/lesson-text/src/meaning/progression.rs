//! Changes as they are played: each chord's time and its scale.

use lesson::{Bar, BarTime, ChordTime, LessonScale, ScaleRule};
use rhythm::Fraction;
use theory::{ChordSymbol, PitchName, Scale};

use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::plain;
use crate::typed::changes::changes_text::{ChangesText, key_of};
use crate::typed::changes::choose::Occasion;
use crate::typed::scale::ScaleText;

/// The chords of a chorus in time.
#[derive(Debug, Clone)]
pub(crate) struct Progression {
    /// Its bars from the first bar line on; never empty.
    pub bars: Vec<BarTime>,
    pub key: PitchName,
    /// The scale of its key, among the lesson's.
    pub home: usize,
    pub chords: Vec<ChordTime>,
    pub pickup: Fraction,
    pub length: Fraction,
}

impl Progression {
    /// The scales it plays, each once.
    pub(crate) fn scales(&self) -> Vec<usize> {
        let mut scales: Vec<usize> = self.chords.iter().filter_map(|chord| chord.scale).collect();
        scales.sort_unstable();
        scales.dedup();
        scales
    }
}

/// The scale of a dominant that goes down a fifth to minor (common practice:
/// the fifth mode of the harmonic minor it leads to).
const TO_MINOR: &str = "phrygian-dominant";

/// The scale of a plain dominant that goes down a half step (common practice:
/// the substitute of the fifth above where it goes).
const DOWN_HALF_STEP: &str = "lydian-dominant";

/// Plays changes out; their scales are added to the lesson's.
pub(crate) fn progression(
    text: &ChangesText,
    scales: &mut Vec<ScaleText>,
    report: &mut Report<'_>,
) -> Option<Progression> {
    let played: Vec<(Option<&str>, &Bar)> =
        text.changes.begun().take(limit::CHANGES_BARS + 1).collect();
    if played.len() > limit::CHANGES_BARS {
        let message = format!(
            "played out, these changes have over {} bars",
            limit::CHANGES_BARS
        );
        report.mistake(&text.span, message, "write fewer bars, or fewer times");
        return None;
    }
    let pickup = text.changes.pickup();
    let BarTimes {
        bars,
        begins,
        length,
    } = timed(&played, pickup)?;
    let played: Vec<&Bar> = played.into_iter().map(|(_, bar)| bar).collect();
    let mut chords = laid(&played, &begins, length);
    let Some(first) = chords.iter().find(|chord| !chord.symbol.chord.is_none()) else {
        report.mistake(
            &text.span,
            "these changes have no chord",
            "write bars = \"| C7 | F7 | same | G7 |\" below it",
        );
        return None;
    };
    let (key, is_minor_key) = key(text, &first.symbol)?;
    let span = text.span.clone();
    let mut number = |scale: LessonScale| {
        let known = scales.iter().position(|one| {
            one.scale
                .as_ref()
                .is_some_and(|own| own.scale == scale.scale)
        });
        known.unwrap_or_else(|| {
            scales.push(ScaleText::added(scale, span.clone()));
            scales.len() - 1
        })
    };
    let home = if is_minor_key {
        "natural-minor"
    } else {
        "major"
    };
    let home = number(catalogued(home)?);
    for at in 0..chords.len() {
        let (rule, scale) = chosen(text, &chords, at);
        chords[at].rule = rule;
        chords[at].scale = scale.map(&mut number);
    }
    all_found(text, &chords, report)?;
    Some(Progression {
        bars,
        key,
        home,
        chords: merged(chords),
        pickup,
        length,
    })
}

/// The key of changes, and whether it is minor: as said, as their signature has
/// it, or the first chord's.
fn key(text: &ChangesText, first: &ChordSymbol) -> Option<(PitchName, bool)> {
    match &text.key {
        Saying::Said(said) => Some(said.value),
        Saying::Unclear => None,
        Saying::Unsaid => Some(match text.changes.key {
            Some(signature) => key_of(signature),
            None => (first.root, is_minor(first)),
        }),
    }
}

/// What scales are chosen for is in the changes.
fn all_found(text: &ChangesText, chords: &[ChordTime], report: &mut Report<'_>) -> Option<()> {
    let before = report.count();
    for (chosen, _) in &text.choices {
        let (found, what) = match &chosen.value {
            Occasion::Bar(bar) => {
                let bars = text.changes.played().map(|bar| &bar.number);
                let found = bars.into_iter().any(|number| number == bar);
                (found, format!("these changes have no bar {}", plain(bar)))
            }
            Occasion::Name(name) => (
                chords.iter().any(|chord| is_named(chord, name)),
                format!("the chord {name} isn't in these changes"),
            ),
            Occasion::ToMinor(_) | Occasion::DownHalfStep(_) | Occasion::Kind(_) => continue,
        };
        if !found {
            report.mistake(
                &chosen.span,
                what,
                "leave the line out, or name one that is",
            );
        }
    }
    (report.count() == before).then_some(())
}

/// Bars in time.
struct BarTimes {
    bars: Vec<BarTime>,
    /// Where each that is played begins, in quarters from the first bar line.
    begins: Vec<Fraction>,
    length: Fraction,
}

/// When bars begin. One that is shorter than its meter is filled, unless what
/// it lacks comes next: the second half of a bar that a repeat cuts in two.
/// `None` where nothing follows a pickup.
fn timed(played: &[(Option<&str>, &Bar)], pickup: Fraction) -> Option<BarTimes> {
    let mut timed = BarTimes {
        bars: Vec::new(),
        begins: Vec::with_capacity(played.len()),
        length: Fraction::ZERO,
    };
    let mut filled = Fraction::ZERO;
    // A section that begins before a bar line is named on it.
    let mut section = None;
    for (number, (begun, bar)) in played.iter().enumerate() {
        section = begun.or(section);
        if number == 0 && pickup > Fraction::ZERO {
            timed.begins.push(-pickup);
            continue;
        }
        let goes_on = bar.from > Fraction::ZERO
            && bar.from == filled
            && timed
                .bars
                .last()
                .is_some_and(|last| last.meter == bar.meter);
        if !goes_on {
            timed.bars.push(BarTime {
                at: timed.length,
                meter: bar.meter.clone(),
                section: section.take().map(str::to_owned),
            });
            timed.length += bar.meter.bar();
            filled = Fraction::ZERO;
        }
        timed.begins.push(timed.length - bar.meter.bar() + filled);
        filled = (filled + bar.length).min(bar.meter.bar());
    }
    (!timed.bars.is_empty()).then_some(timed)
}

/// Each chord until the next.
fn laid(played: &[&Bar], begins: &[Fraction], end: Fraction) -> Vec<ChordTime> {
    let mut chords: Vec<ChordTime> = Vec::new();
    let mut until = end;
    for (index, bar) in played.iter().enumerate() {
        let begin = begins[index];
        let within = begins.get(index + 1).copied().unwrap_or(end) - begin;
        let before = chords.last().map(|chord| chord.symbol.clone());
        let opens = bar.chords.first().is_some_and(|chord| chord.at <= bar.from);
        // What sounded before goes on; a bar line still parts its statements
        // where the scale is another.
        let carried = before.filter(|_| !opens).map(|symbol| (bar.from, symbol));
        let own = bar
            .chords
            .iter()
            .map(|chord| (chord.at, chord.symbol.clone()));
        for (at, symbol) in carried.into_iter().chain(own) {
            let after = at - bar.from;
            if after >= within {
                continue;
            }
            chords.push(ChordTime {
                bar: bar.number.clone(),
                at: begin + after,
                length: Fraction::ZERO,
                symbol,
                scale: None,
                rule: ScaleRule::None,
            });
        }
    }
    for chord in chords.iter_mut().rev() {
        chord.length = until - chord.at;
        until = chord.at;
    }
    chords.retain(|chord| chord.length > Fraction::ZERO);
    chords
}

/// One chord on one scale is one, however many bars it takes.
fn merged(chords: Vec<ChordTime>) -> Vec<ChordTime> {
    let mut merged: Vec<ChordTime> = Vec::with_capacity(chords.len());
    for chord in chords {
        match merged.last_mut() {
            Some(last) if last.symbol == chord.symbol && last.scale == chord.scale => {
                last.length += chord.length;
            }
            _ => merged.push(chord),
        }
    }
    merged
}

/// A chord's scale, and the rule that gave it.
fn chosen(text: &ChangesText, chords: &[ChordTime], at: usize) -> (ScaleRule, Option<LessonScale>) {
    let here = &chords[at];
    let kind = &here.symbol.chord;
    if kind.is_none() {
        return (ScaleRule::None, None);
    }
    let said = |wanted: &dyn Fn(&Occasion) -> bool| {
        let found = text
            .choices
            .iter()
            .find(|(chosen, _)| wanted(&chosen.value));
        found.map(|(_, scale)| scale.clone())
    };
    if let Some(scale) = said(&|one| *one == Occasion::Bar(here.bar.clone())) {
        return (ScaleRule::Bar, Some(scale));
    }
    if let Some(scale) = said(&|one| matches!(one, Occasion::Name(name) if is_named(here, name))) {
        return (ScaleRule::Named, Some(scale));
    }
    let to_minor = goes_to_minor(chords, at);
    let down = goes_down_a_half_step(chords, at);
    if to_minor && let Some(scale) = said(&|one| *one == Occasion::ToMinor(kind.clone())) {
        return (ScaleRule::SaidToMinor, Some(scale));
    }
    if down && let Some(scale) = said(&|one| *one == Occasion::DownHalfStep(kind.clone())) {
        return (ScaleRule::SaidDownHalfStep, Some(scale));
    }
    if let Some(scale) = said(&|one| *one == Occasion::Kind(kind.clone())) {
        return (ScaleRule::Said, Some(scale));
    }
    let (usual, _) = here.symbol.scales();
    let dominant = usual == "mixolydian" && has(&here.symbol, 4) && has(&here.symbol, 10);
    if to_minor && dominant {
        return (ScaleRule::ToMinor, catalogued(TO_MINOR));
    }
    if down && dominant {
        return (ScaleRule::DownHalfStep, catalogued(DOWN_HALF_STEP));
    }
    (ScaleRule::Usual, catalogued(usual))
}

/// Whether a chord is the one named; a bass of its own matters only where the
/// name has one.
fn is_named(chord: &ChordTime, name: &ChordSymbol) -> bool {
    let symbol = &chord.symbol;
    let bass = name.bass.is_none() || name.bass == symbol.bass;
    symbol.root == name.root && symbol.chord == name.chord && bass
}

/// Whether the next other chord is a minor one a fifth below.
fn goes_to_minor(chords: &[ChordTime], at: usize) -> bool {
    next_other(chords, at).is_some_and(|(up, next)| up == 5 && is_minor(next))
}

/// Whether the next other chord lies a half step lower.
fn goes_down_a_half_step(chords: &[ChordTime], at: usize) -> bool {
    next_other(chords, at).is_some_and(|(up, _)| up == 11)
}

/// The next other chord, the first after the last, and how many half steps up
/// its root is.
fn next_other(chords: &[ChordTime], at: usize) -> Option<(u8, &ChordSymbol)> {
    let here = &chords[at].symbol;
    let round = chords[at + 1..].iter().chain(&chords[..at]);
    let others = round.map(|chord| &chord.symbol);
    let next = others
        .filter(|next| !next.chord.is_none())
        .find(|next| *next != here)?;
    Some(((12 + next.root.class() - here.root.class()) % 12, next))
}

/// A minor third and a perfect fifth.
fn is_minor(symbol: &ChordSymbol) -> bool {
    has(symbol, 3) && has(symbol, 7) && !has(symbol, 4)
}

/// Whether a chord has a tone so many semitones above its root.
fn has(symbol: &ChordSymbol, semitones: i16) -> bool {
    let degrees = symbol.chord.degrees().iter();
    degrees
        .map(|degree| degree.interval().semitones().rem_euclid(12))
        .any(|tone| tone == semitones)
}

fn catalogued(name: &str) -> Option<LessonScale> {
    let scale = Scale::named(name).ok()?;
    Some(LessonScale { scale, chord: None })
}
