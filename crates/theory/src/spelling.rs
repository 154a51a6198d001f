//! Rule 3: how each note of a line is spelled.

use crate::{
    ChordSymbol, Degree, Form, Interval, Ladder, Letter, Pitch, PitchName, Rung, Scale, Signature,
    SignatureStyle, key_signature,
};

/// How notes are spelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SpellingStyle {
    /// For reading: the chord's letters, no needless doubles.
    #[default]
    Readable,
    /// A rung takes the letter of its degree.
    Strict,
}

/// A note before it is spelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tone {
    /// A rung of the ladder.
    Rung(Rung),
    /// A half step above the rung it leads to.
    Above(Rung),
    /// A half step below the rung it leads to.
    Below(Rung),
}

/// A tone and the form of the scale it is taken from; an ornament has that of
/// the rung it leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct LineTone {
    /// What sounds.
    pub tone: Tone,
    /// Rising or falling form.
    pub form: Form,
}

/// Spells the lines of one scale on one root under one chord.
#[derive(Debug)]
pub struct Speller<'a> {
    /// The scale's ladder.
    pub ladder: &'a Ladder,
    /// The pitch of rung 0.
    pub root: Pitch,
    /// The chord shown over the line, on the same (written) root names.
    pub chord: Option<&'a ChordSymbol>,
    /// The signature on the staff.
    pub signature: Signature,
    /// Strict or readable.
    pub style: SpellingStyle,
}

impl Speller<'_> {
    /// The pitch of each tone as `strict` has it, by sound always right.
    pub fn strict(&self, tone: LineTone) -> Pitch {
        let rung = |rung| self.root + self.ladder.interval(rung, tone.form);
        match tone.tone {
            Tone::Rung(place) => rung(place),
            Tone::Above(target) => rung(target) + HALF_STEP,
            Tone::Below(target) => rung(target) - HALF_STEP,
        }
    }

    /// The whole line, in order, into `out` (cleared first). Gives how many
    /// notes are spelled otherwise than strictly.
    pub fn spell(&self, line: &[LineTone], out: &mut Vec<Pitch>) -> usize {
        out.clear();
        let strict: Vec<Pitch> = line.iter().map(|&tone| self.strict(tone)).collect();
        if self.style == SpellingStyle::Strict {
            out.extend(strict.iter().copied().map(Pitch::printable));
        } else {
            self.spell_readably(line, &strict, out);
        }
        let pairs = strict.iter().zip(&*out);
        pairs.filter(|(strict, spelled)| strict != spelled).count()
    }

    fn spell_readably(&self, line: &[LineTone], strict: &[Pitch], out: &mut Vec<Pitch>) {
        let places = Places::new(self);
        self.spell_rungs(line, strict, &places, out);
        for at in 0..line.len() {
            let (target, half_step) = match line[at].tone {
                Tone::Rung(_) => continue,
                Tone::Above(target) => (target, HALF_STEP),
                Tone::Below(target) => (target, -HALF_STEP),
            };
            let sound = self.ladder.interval(target, line[at].form);
            let printed = line[at..].iter().position(|tone| {
                tone.tone == Tone::Rung(target) && self.ladder.interval(target, tone.form) == sound
            });
            out[at] = out[printed.map_or(at, |ahead| at + ahead)] + half_step;
        }
        for pitch in out.iter_mut() {
            *pitch = pitch.printable();
        }
    }

    /// Each rung as it is printed; in an ornament's place its target as it is
    /// spelled alone.
    fn spell_rungs(
        &self,
        line: &[LineTone],
        strict: &[Pitch],
        places: &Places,
        out: &mut Vec<Pitch>,
    ) {
        let sounds: Vec<i16> = strict.iter().map(|pitch| pitch.midi()).collect();
        let first = sounds.first().copied();
        // the sound that breaks away from the line's first, and the last one
        // that differed from the note at hand
        let breaking_away = sounds.iter().copied().find(|&other| Some(other) != first);
        let mut before = None;
        let mut last = None;
        for (at, tone) in line.iter().enumerate() {
            let here = sounds[at];
            if last != Some(here) {
                before = last;
            }
            last = Some(here);
            let (Tone::Rung(rung) | Tone::Above(rung) | Tone::Below(rung)) = tone.tone;
            let place = places.place(self.ladder, rung, tone.form);
            let strict = match tone.tone {
                Tone::Rung(_) => strict[at],
                Tone::Above(_) | Tone::Below(_) => {
                    self.root + self.ladder.interval(rung, tone.form)
                }
            };
            out.push(match (place.passing, tone.tone) {
                (Some(passing), Tone::Rung(_)) => {
                    let next = sounds.get(at + 1).copied().filter(|&next| next != here);
                    let up = match (next, before) {
                        (Some(next), _) => Some(next > here),
                        (None, Some(before)) => Some(before < here),
                        (None, None) => breaking_away.map(|next| next > here),
                    };
                    match up {
                        Some(true) => strict + passing.rising,
                        Some(false) => strict + passing.falling,
                        None => strict + place.shift,
                    }
                }
                _ => strict + place.shift,
            });
        }
    }
}

/// The names of one octave of a scale as they stand over its own chord in its
/// fitting signature, each degree once: rising from the root, falling from the
/// root above.
pub fn spell_scale(
    root: PitchName,
    scale: &Scale,
    form: Form,
    style: SpellingStyle,
) -> Vec<PitchName> {
    let ladder = Ladder::new(scale);
    let chord = scale
        .chord
        .as_ref()
        .map(|chord| ChordSymbol::on(root, chord));
    let speller = Speller {
        ladder: &ladder,
        root: root.at(4),
        chord: chord.as_ref(),
        signature: key_signature(scale, root, SignatureStyle::Fitting).signature,
        style,
    };
    let tone = |rung| LineTone {
        tone: Tone::Rung(Rung(rung)),
        form,
    };
    let line: Vec<LineTone> = match form {
        Form::Rising => (0..=ladder.size()).map(tone).collect(),
        Form::Falling => (0..=ladder.size()).rev().map(tone).collect(),
    };
    let mut pitches = Vec::new();
    speller.spell(&line, &mut pitches);
    pitches.pop();
    pitches.into_iter().map(Pitch::name).collect()
}

const HALF_STEP: Interval = Interval::from_steps(1, 1);

/// Readable spellings of an octave's rungs, in both forms.
struct Places {
    rising: Vec<Place>,
    falling: Option<Vec<Place>>,
}

/// How one rung is printed: what to add to its strict spelling, always an
/// enharmonic change.
#[derive(Clone, Copy)]
struct Place {
    shift: Interval,
    passing: Option<Passing>,
}

/// What a passing rung is printed as, going up and coming down.
#[derive(Clone, Copy)]
struct Passing {
    rising: Interval,
    falling: Interval,
}

impl Places {
    fn new(speller: &Speller) -> Places {
        let [rising, falling] =
            [Form::Rising, Form::Falling].map(|form| speller.ladder.degrees(form));
        Places {
            rising: readable(speller, rising),
            falling: (falling != rising).then(|| readable(speller, falling)),
        }
    }

    fn place(&self, ladder: &Ladder, rung: Rung, form: Form) -> Place {
        let places = match (form, &self.falling) {
            (Form::Falling, Some(falling)) => falling,
            _ => &self.rising,
        };
        places[rung.0.rem_euclid(ladder.size()) as usize]
    }
}

/// Rule 3's readable spelling, step by step, each on the last one's result.
fn readable(speller: &Speller, degrees: &[Degree]) -> Vec<Place> {
    let root = speller.root.name();
    let tones = speller.chord.map(ChordSymbol::tones).unwrap_or_default();
    let tone = |name: PitchName| {
        tones
            .iter()
            .copied()
            .find(|tone| tone.class() == name.class())
    };
    let strict: Vec<PitchName> = degrees
        .iter()
        .map(|degree| root + degree.interval())
        .collect();
    let count = strict.len();
    let (below, above) = (
        |at: usize| (at + count - 1) % count,
        |at: usize| (at + 1) % count,
    );

    let with_chord: Vec<PitchName> = strict
        .iter()
        .map(|&name| tone(name).unwrap_or(name))
        .collect();
    let plain: Vec<PitchName> = (0..count)
        .map(|at| {
            let beside = [
                with_chord[below(at)].letter(),
                with_chord[above(at)].letter(),
            ];
            // the root keeps the name it was given
            if at == 0 {
                with_chord[at]
            } else {
                simplified(with_chord[at], beside, speller.signature)
            }
        })
        .collect();

    let change = |at: usize, name: PitchName| {
        let turns = (name.fifths() - strict[at].fifths()) / 12;
        Interval::from_coordinates(12 * turns, -7 * turns)
    };
    let half_step =
        |from: usize, to: usize| (12 + strict[to].class() - strict[from].class()) % 12 == 1;
    let place = |at: usize| {
        let between = half_step(below(at), at) && half_step(at, above(at));
        let passing = between && at != 0 && tone(strict[at]).is_none();
        let allowed = |name: PitchName| {
            Some(name).filter(|name| !is_double(*name) && simpler(*name).is_none())
        };
        let raised = allowed(PitchName::from_fifths(plain[below(at)].fifths() + SHARP));
        let lowered = allowed(PitchName::from_fifths(plain[above(at)].fifths() - SHARP));
        Place {
            shift: change(at, plain[at]),
            passing: passing.then(|| Passing {
                rising: change(at, raised.or(lowered).unwrap_or(plain[at])),
                falling: change(at, lowered.or(raised).unwrap_or(plain[at])),
            }),
        }
    };
    (0..count).map(place).collect()
}

/// A sharp on the line of fifths.
const SHARP: i16 = 7;

/// The name without needless signs: a double accidental takes the next letter,
/// E sharp, B sharp, C flat and F flat outside the signature take F, C, B and
/// E; neither where a letter beside it is the same.
fn simplified(mut name: PitchName, beside: [Letter; 2], signature: Signature) -> PitchName {
    while is_double(name) {
        let next = name.twin();
        if beside.contains(&next.letter()) {
            return name;
        }
        name = next;
    }
    match simpler(name) {
        Some(white)
            if signature.alteration(name.letter()) != name.alteration()
                && !beside.contains(&white.letter()) =>
        {
            white
        }
        _ => name,
    }
}

fn is_double(name: PitchName) -> bool {
    name.alteration().abs() > 1
}

/// F for E sharp, C for B sharp, B for C flat, E for F flat.
fn simpler(name: PitchName) -> Option<PitchName> {
    match name.fifths() {
        fifths @ (11 | 12) => Some(PitchName::from_fifths(fifths - 12)),
        fifths @ (-8 | -7) => Some(PitchName::from_fifths(fifths + 12)),
        _ => None,
    }
}

#[cfg(test)]
mod tests;
