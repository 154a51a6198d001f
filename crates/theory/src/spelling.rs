//! Rule 3: how each note of a line is spelled.

use std::cmp::Ordering;

use crate::ornament::{Side, ornament};
use crate::rung_name::rung_names;
use crate::{
    Form, Interval, Ladder, Naming, Pitch, PitchName, Rung, RungName, Scale, Signature,
    SignatureStyle, SpellingStyle, key_signature,
};

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

impl Tone {
    /// The rung itself, or the one that an ornament leads to.
    pub const fn rung(self) -> Rung {
        let (Tone::Rung(rung) | Tone::Above(rung) | Tone::Below(rung)) = self;
        rung
    }

    /// The side of its target that an ornament is on.
    pub const fn side(self) -> Option<Side> {
        match self {
            Tone::Rung(_) => None,
            Tone::Above(_) => Some(Side::Above),
            Tone::Below(_) => Some(Side::Below),
        }
    }
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

/// The names of a scale in one key, made once, and the lines they spell.
#[derive(Debug, Clone)]
pub struct Speller {
    signature: Signature,
    style: SpellingStyle,
    rising: Vec<RungName>,
    /// Where the scale comes down in another form.
    falling: Option<Vec<RungName>>,
    ladder: Ladder,
}

impl Speller {
    /// Names every rung of a ladder.
    pub fn new(ladder: &Ladder, naming: Naming<'_>) -> Speller {
        let [rising, falling] = [Form::Rising, Form::Falling].map(|form| ladder.degrees(form));
        Speller {
            signature: naming.signature,
            style: naming.style,
            rising: rung_names(rising, &naming),
            falling: (falling != rising).then(|| rung_names(falling, &naming)),
            ladder: ladder.clone(),
        }
    }

    /// The names of one octave, from the root up.
    pub fn names(&self, form: Form) -> &[RungName] {
        match (form, &self.falling) {
            (Form::Falling, Some(falling)) => falling,
            _ => &self.rising,
        }
    }

    /// The pitch of a tone as `strict` has it, by sound always right; `root`
    /// is rung 0, of the name that the speller was made for.
    pub fn strict(&self, root: Pitch, tone: LineTone) -> Pitch {
        let rung = self.strict_rung(root, tone);
        match tone.tone {
            Tone::Rung(_) => rung,
            Tone::Above(_) => rung + HALF_STEP,
            Tone::Below(_) => rung - HALF_STEP,
        }
    }

    /// A line from that root, in order, into `out` (cleared first). Gives how
    /// many notes are spelled otherwise than strictly.
    pub fn spell(&self, root: Pitch, line: &[LineTone], out: &mut Vec<Pitch>) -> usize {
        let strict: Vec<Pitch> = line.iter().map(|&tone| self.strict(root, tone)).collect();
        out.clear();
        self.spell_rungs(root, line, &strict, out);
        for at in 0..line.len() {
            if let Some(side) = line[at].tone.side() {
                let led_to = Tone::Rung(line[at].tone.rung());
                let sound = self.strict_rung(root, line[at]);
                let printed = line[at..]
                    .iter()
                    .position(|tone| tone.tone == led_to && self.strict_rung(root, *tone) == sound);
                let target = out[printed.map_or(at, |ahead| at + ahead)];
                out[at] = ornament(target, side, self.signature, self.style);
            }
        }
        for pitch in out.iter_mut() {
            *pitch = pitch.printable();
        }
        let pairs = strict.iter().zip(&*out);
        pairs.filter(|(strict, spelled)| strict != spelled).count()
    }

    fn strict_rung(&self, root: Pitch, tone: LineTone) -> Pitch {
        root + self.ladder.interval(tone.tone.rung(), tone.form)
    }

    /// Each rung as it is printed; in an ornament's place its target as it is
    /// spelled alone.
    fn spell_rungs(&self, root: Pitch, line: &[LineTone], strict: &[Pitch], out: &mut Vec<Pitch>) {
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
            let next = sounds.get(at + 1).copied();
            let direction = match tone.tone.side() {
                Some(_) => Ordering::Equal,
                None => next
                    .unwrap_or(here)
                    .cmp(&here)
                    .then(here.cmp(&before.unwrap_or(here)))
                    .then(breaking_away.unwrap_or(here).cmp(&here)),
            };
            let named = self.name(*tone);
            let name = match direction {
                Ordering::Greater => named.going_up,
                Ordering::Less => named.coming_down,
                Ordering::Equal => named.plain,
            };
            out.push(self.strict_rung(root, *tone) + enharmonic(named.strict, name));
        }
    }

    fn name(&self, tone: LineTone) -> RungName {
        let Rung(rung) = tone.tone.rung();
        self.names(tone.form)[rung.rem_euclid(self.ladder.size()) as usize]
    }
}

/// What leads from one name of a sound to another: no semitone.
fn enharmonic(from: PitchName, to: PitchName) -> Interval {
    let turns = (to.fifths() - from.fifths()) / 12;
    // Twelve fifths are seven octaves.
    Interval::from_coordinates(12 * turns, -7 * turns)
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
    let chord = scale.chord.as_ref();
    let naming = Naming {
        root,
        chord,
        over: chord,
        signature: key_signature(scale, root, SignatureStyle::Fitting, style).signature,
        style,
    };
    let speller = Speller::new(&Ladder::new(scale), naming);
    let names = speller.names(form).iter();
    let printed = |name: PitchName| name.printable();
    match form {
        Form::Rising => names.map(|name| printed(name.going_up)).collect(),
        Form::Falling => {
            let from_the_root_above = |at: usize| {
                let names = speller.names(form);
                printed(names[(names.len() - at) % names.len()].coming_down)
            };
            (0..names.len()).map(from_the_root_above).collect()
        }
    }
}

const HALF_STEP: Interval = Interval::from_steps(1, 1);

#[cfg(test)]
mod tests;
