//! What speaks for a root and for the notes that are at home: the chord over
//! the phrase, its key, where it begins and ends.

use lesson::Phrase;
use theory::{ChordSymbol, Mode, PitchName, RootWish, Scale, concert_root};

/// What it costs that a scale's note is strange to the key, or to the chord
/// though the key knows it.
const STRANGE: u32 = 3;
const STRANGE_TO_CHORD: u32 = 1;

/// What a phrase says about itself.
#[derive(Debug)]
pub(crate) struct Evidence {
    /// The chord it begins under.
    pub chord: Option<ChordSymbol>,
    /// The pitch classes of the chord's usual scale and of the key, where they
    /// are said.
    of_chord: Option<[bool; 12]>,
    of_key: Option<[bool; 12]>,
    /// The key's tonic, and whether it is said which of major and minor it is.
    tonic: Option<(u8, bool)>,
    first: Option<u8>,
    last: Option<u8>,
    /// The names that the phrase's own notes have.
    names: [Option<PitchName>; 12],
    fifths: i16,
}

impl Evidence {
    pub fn of(phrase: &Phrase) -> Evidence {
        let sounding = || phrase.notes.iter().filter_map(|note| note.pitch);
        let mut names = [None; 12];
        for pitch in sounding() {
            let name = pitch.name();
            names[usize::from(name.class())].get_or_insert(name);
        }
        let opening = phrase
            .notes
            .iter()
            .find(|note| note.pitch.is_some())
            .map(|note| note.onset);
        let chord = opening.and_then(|onset| {
            let before = phrase
                .chords
                .iter()
                .take_while(|chord| chord.at <= onset)
                .last();
            before
                .or(phrase.chords.first())
                .map(|chord| chord.symbol.clone())
        });
        let chord = chord.filter(|symbol| !symbol.chord.is_none());
        let fifths = phrase.key.map(|key| i16::from(key.signature.fifths()));
        let tonic = phrase.key.map(|key| {
            let fifths = i16::from(key.signature.fifths());
            match key.mode {
                Some(Mode::Minor) => (PitchName::from_fifths(fifths + 3).class(), true),
                mode => (PitchName::from_fifths(fifths).class(), mode.is_some()),
            }
        });
        let of_chord = chord.as_ref().and_then(|symbol| {
            let scale = Scale::named(symbol.scales().0).ok()?;
            Some(classes(&scale, symbol.root))
        });
        let of_key = fifths.map(|fifths| {
            let mut home = [false; 12];
            for name in fifths - 1..fifths + 6 {
                home[usize::from(PitchName::from_fifths(name).class())] = true;
            }
            home
        });
        Evidence {
            chord,
            of_chord,
            of_key,
            tonic,
            first: sounding().next().map(|pitch| pitch.name().class()),
            last: sounding().next_back().map(|pitch| pitch.name().class()),
            names,
            fifths: fifths.unwrap_or(0),
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
        let root = |class| (self.name(class, scale), self.doubt(class));
        (0..12).map(root).collect()
    }

    /// How strange a scale's notes are: those that neither the chord nor the
    /// key knows count whole, those that only the key knows, under a chord, a
    /// third.
    pub fn strange(&self, scale: &Scale, root: PitchName) -> u32 {
        let knows = |home: Option<[bool; 12]>, class: usize| home.map(|home| home[class]);
        let own = classes(scale, root);
        let own = own.iter().enumerate().filter(|(_, own)| **own);
        own.map(
            |(class, _)| match (knows(self.of_chord, class), knows(self.of_key, class)) {
                (Some(true), _) | (None, Some(true)) | (None, None) => 0,
                (Some(false), Some(true)) => STRANGE_TO_CHORD,
                (Some(false), _) | (None, Some(false)) => STRANGE,
            },
        )
        .sum()
    }

    /// Whether the chord is usually played on a scale.
    pub fn suits_chord(&self, scale: &Scale) -> bool {
        let (Some(symbol), Some(id)) = (&self.chord, scale.id.as_deref()) else {
            return false;
        };
        let (usual, others) = symbol.scales();
        usual == id || others.contains(&id)
    }

    fn doubt(&self, class: u8) -> u32 {
        let of_key = match self.tonic {
            Some((tonic, _)) if tonic == class => 0,
            Some((_, said)) => 1 + u32::from(said),
            None => 0,
        };
        of_key + u32::from(self.first != Some(class)) + u32::from(self.last != Some(class))
    }

    /// A root's name: as the phrase spells it, else as its key does, else by
    /// the fewest accidentals.
    fn name(&self, class: u8, scale: &Scale) -> PitchName {
        let of_key = || {
            (self.fifths - 1..self.fifths + 6)
                .map(PitchName::from_fifths)
                .find(|name| name.class() == class)
        };
        self.names[usize::from(class)]
            .filter(|name| name.alteration().abs() < 2)
            .or_else(of_key)
            .unwrap_or_else(|| concert_root(class, scale, RootWish::default()))
    }
}

/// The pitch classes of a scale on a root.
pub(crate) fn classes(scale: &Scale, root: PitchName) -> [bool; 12] {
    let mut classes = [false; 12];
    for degree in &scale.degrees {
        classes[usize::from((root + degree.interval()).class())] = true;
    }
    classes
}
