//! What speaks for a root and for the notes that are at home: the chord over
//! the phrase, the key that its sheet states, where it begins and ends.

use lesson::{Home, Phrase};
use theory::{ChordSymbol, PitchName, RootWish, Scale, concert_root};

use crate::tonic::{doubts, of_signature};

/// What it costs that a scale's note is strange to the key; to the chord
/// though the key knows it; that a minor key bends it.
const STRANGE: u32 = 5;
const STRANGE_TO_CHORD: u32 = 1;
const BENT: u32 = 1;
/// The same where there is a chord or no key to go by.
const LOOSELY_STRANGE: u32 = 3;

/// What a phrase says about itself.
#[derive(Debug)]
pub(crate) struct Evidence {
    /// The chord over it, if it is one.
    pub chord: Option<ChordSymbol>,
    /// The pitch classes of the chord's usual scale and of the key, where they
    /// are said.
    of_chord: Option<[bool; 12]>,
    of_key: Option<[bool; 12]>,
    /// The key that is stated, with its tonic and scale.
    home: Option<Home>,
    /// How little speaks for each of the twelve roots.
    doubts: [u32; 12],
    /// The names that the phrase's own notes have.
    names: [Option<PitchName>; 12],
    fifths: Option<i16>,
}

impl Evidence {
    pub fn of(phrase: &Phrase) -> Evidence {
        let mut names = [None; 12];
        for pitch in phrase.notes.iter().filter_map(|note| note.pitch) {
            let name = pitch.name();
            names[usize::from(name.class())].get_or_insert(name);
        }
        let chord = one_chord(phrase);
        let fifths = phrase.key.map(|key| i16::from(key.signature.fifths()));
        let of_chord = chord.as_ref().and_then(|symbol| {
            let scale = Scale::named(symbol.scales().0).ok()?;
            Some(classes(&scale, symbol.root))
        });
        let of_home = phrase.home.as_ref();
        let of_key = of_home
            .map(|home| classes(&home.scale, home.tonic))
            .or_else(|| fifths.map(of_signature));
        Evidence {
            chord,
            of_chord,
            of_key,
            home: phrase.home.clone(),
            doubts: doubts(phrase),
            names,
            fifths,
        }
    }

    /// The roots that come into question, each with how little speaks for it:
    /// the chord's where there is one.
    pub fn roots(&self, scale: &Scale) -> Vec<(PitchName, u32)> {
        match &self.chord {
            Some(symbol) => vec![(symbol.root, 0)],
            None => self.all_roots(scale),
        }
    }

    /// All twelve roots, whatever the chord.
    pub fn all_roots(&self, scale: &Scale) -> Vec<(PitchName, u32)> {
        let root = |class: u8| (self.name(class, scale), self.doubts[usize::from(class)]);
        (0..12).map(root).collect()
    }

    /// The scales that notes may be borrowed into: the chord's usual one, or
    /// the stated key's, or the modes of the signature, or what a teacher
    /// thinks of first.
    pub fn homes(&self) -> Vec<(PitchName, Scale, u32)> {
        let named = |ids: &[&str]| -> Vec<Scale> {
            ids.iter().filter_map(|id| Scale::named(id).ok()).collect()
        };
        if let Some(symbol) = &self.chord {
            let usual = named(&[symbol.scales().0]);
            return usual
                .into_iter()
                .map(|scale| (symbol.root, scale, 0))
                .collect();
        }
        if let Some(Home { tonic, scale }) = &self.home {
            return vec![(*tonic, scale.clone(), 0)];
        }
        let on_all = |scale: Scale| {
            let roots = self.all_roots(&scale);
            roots
                .into_iter()
                .map(move |(root, doubt)| (root, scale.clone(), doubt))
                .collect::<Vec<_>>()
        };
        let modes = [
            "major",
            "natural-minor",
            "dorian",
            "mixolydian",
            "phrygian",
            "lydian",
        ];
        let all = named(&modes).into_iter().flat_map(on_all);
        match self.of_key {
            Some(of_key) => all
                .filter(|(root, scale, _)| classes(scale, *root) == of_key)
                .collect(),
            None => all
                .filter(|(_, scale, _)| modes[..4].contains(&scale.id.as_deref().unwrap_or("")))
                .collect(),
        }
    }

    /// Whether a key is stated and no chord: then plain scales go first.
    pub fn is_plain(&self) -> bool {
        self.of_key.is_some() && self.chord.is_none()
    }

    /// How strange a scale's notes are: those that neither the chord nor the
    /// key knows count whole, those that only the key knows, under a chord,
    /// little; so do those that a minor key bends.
    pub fn strange(&self, scale: &Scale, root: PitchName) -> u32 {
        let knows = |home: Option<[bool; 12]>, class: usize| home.map(|home| home[class]);
        let whole = if self.is_plain() {
            STRANGE
        } else {
            LOOSELY_STRANGE
        };
        let own = classes(scale, root);
        let own = own.iter().enumerate().filter(|(_, own)| **own);
        own.map(
            |(class, _)| match (knows(self.of_chord, class), knows(self.of_key, class)) {
                (Some(true), _) | (None, Some(true)) | (None, None) => 0,
                (Some(false), Some(true)) => STRANGE_TO_CHORD,
                (None, Some(false)) if self.bends(scale, root, class) => BENT,
                (Some(false), _) | (None, Some(false)) => whole,
            },
        )
        .sum()
    }

    /// Whether a class is the sixth or seventh that the key's minor raises, or
    /// the fifth that its blues lowers, if the minor's tonic is the root.
    fn bends(&self, scale: &Scale, root: PitchName, class: usize) -> bool {
        let minor = match (&self.home, self.fifths) {
            (Some(home), _) => {
                home.scale.id.as_deref() == Some("natural-minor")
                    && home.tonic.class() == root.class()
            }
            (None, Some(fifths)) => PitchName::from_fifths(fifths + 3).class() == root.class(),
            (None, None) => false,
        };
        let above = (class + 12 - usize::from(root.class())) % 12;
        let is_blues = scale.id.as_deref() == Some("blues");
        minor && (above == 9 || above == 11 || (above == 6 && is_blues))
    }

    /// Whether the chord is usually played on a scale.
    pub fn suits_chord(&self, scale: &Scale) -> bool {
        let (Some(symbol), Some(id)) = (&self.chord, scale.id.as_deref()) else {
            return false;
        };
        let (usual, others) = symbol.scales();
        usual == id || others.contains(&id)
    }

    /// A root's name: as the key's tonic or the phrase spells it, else as its
    /// signature does, else by the fewest accidentals.
    fn name(&self, class: u8, scale: &Scale) -> PitchName {
        let tonic = self.home.as_ref().map(|home| home.tonic);
        let of_signature = || {
            let fifths = self.fifths?;
            (fifths - 1..fifths + 6)
                .map(PitchName::from_fifths)
                .find(|name| name.class() == class)
        };
        tonic
            .filter(|tonic| tonic.class() == class)
            .or_else(|| self.names[usize::from(class)])
            .filter(|name| name.alteration().abs() < 2)
            .or_else(of_signature)
            .unwrap_or_else(|| concert_root(class, scale, RootWish::default()))
    }
}

/// The chord that the phrase begins under, if all its chords stand on one
/// root.
fn one_chord(phrase: &Phrase) -> Option<ChordSymbol> {
    let opening = phrase.notes.iter().find(|note| note.pitch.is_some())?.onset;
    let before = phrase
        .chords
        .iter()
        .take_while(|chord| chord.at <= opening)
        .last();
    let symbol = &before.or(phrase.chords.first())?.symbol;
    let last = phrase.notes.iter().rfind(|note| note.pitch.is_some())?;
    let mut heard = phrase
        .chords
        .iter()
        .filter(|chord| chord.at < last.end() && !chord.symbol.chord.is_none());
    let alone = heard.all(|chord| chord.symbol.root == symbol.root);
    Some(symbol.clone()).filter(|symbol| alone && !symbol.chord.is_none())
}

/// The pitch classes of a scale on a root.
pub(crate) fn classes(scale: &Scale, root: PitchName) -> [bool; 12] {
    let mut classes = [false; 12];
    for degree in &scale.degrees {
        classes[usize::from((root + degree.interval()).class())] = true;
    }
    classes
}
