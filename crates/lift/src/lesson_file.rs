//! The lesson file of a lifted phrase.

use lesson::{Named, Phrase};
use theory::{Chord, Degree, Interval, Mode, Scale};

use crate::count::PhraseCount;
use crate::fit::OnScale;
use crate::horn::{Horn, Player, Sequence};
use crate::literal::Literal;
use crate::moves::Moves;
use crate::over;
use crate::request::Fit;

/// What a line is called that no instrument has the range for.
const LINE: &str = "Lifted line";

/// The most notes whose degrees are worth a player's while at a sheet's head.
const MOST_READ: usize = 24;

/// Everything that a lesson file says.
#[derive(Debug)]
pub(crate) struct Draft<'a> {
    pub phrase: &'a Phrase,
    pub says: Says<'a>,
    /// Other scales that hold the phrase.
    pub others: Vec<&'a OnScale>,
    pub counted: &'a PhraseCount,
    pub horn: &'a Horn,
}

/// How the notes are said.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Says<'a> {
    /// As moves on a scale.
    Moves {
        on: &'a OnScale,
        fit: Fit,
        moves: &'a Moves,
    },
    /// Note for note.
    Literal(&'a Literal),
}

impl Draft<'_> {
    /// The file's text.
    pub fn text(&self, strict: bool) -> String {
        let mut text = self.head(strict);
        for comment in self.comments() {
            text.push_str(&format!("# {comment}\n"));
        }
        match self.says {
            Says::Moves { on, moves, .. } => {
                scale(&mut text, on);
                text.push_str("\n[figure]\n");
                line(&mut text, "meter", &self.phrase.meter.to_string());
                line(&mut text, "moves", &moves.moves);
                self.count(&mut text);
                if self.horn.sequence == Sequence::Flipped {
                    line(&mut text, "flipped", &moves.flipped);
                }
            }
            Says::Literal(literal) => {
                text.push_str("[figure]\nliteral = true\n");
                if literal.mode == Mode::Minor {
                    line(&mut text, "key", "C minor");
                }
                line(&mut text, "meter", &self.phrase.meter.to_string());
                line(&mut text, "degrees", &literal.degrees);
                self.count(&mut text);
                if let Some(chords) = &literal.chords {
                    line(&mut text, "chords", chords);
                }
            }
        }
        text.push_str("\n[[exercise]]\nkind = \"figure\"\n");
        let sequence = match self.says {
            Says::Moves { .. } => self.horn.sequence,
            Says::Literal(_) => Sequence::TooWide,
        };
        if sequence != Sequence::TooWide {
            text.push_str("\n[[exercise]]\nkind = \"sequence\"\n");
        }
        if sequence == Sequence::AsItIs {
            line(&mut text, "coming_down", "as it is");
        }
        player(&mut text, &self.horn.player);
        text
    }

    /// Title, who plays, and the keys.
    fn head(&self, strict: bool) -> String {
        let Draft { phrase, horn, .. } = self;
        let mut text = String::new();
        let title = phrase.title.as_deref().map(str::trim).unwrap_or_default();
        let title = if title.is_empty() {
            "Lifted phrase"
        } else {
            title
        };
        line(&mut text, "title", title);
        match &horn.player {
            Player::Unsaid | Player::Reaching(..) => {}
            Player::Instrument(instrument) => {
                text.push_str(&format!("instruments = [{}]\n", quoted(&instrument.id)));
            }
            Player::Line { .. } => text.push_str(&format!("instruments = [{}]\n", quoted(LINE))),
        }
        if horn.advanced {
            line(&mut text, "level", "advanced");
        }
        if strict {
            line(&mut text, "spelling", "strict");
        }
        let root = match self.says {
            Says::Moves { on, .. } => on.root,
            Says::Literal(literal) => {
                let notes = phrase.notes.iter().filter(|note| note.pitch.is_some());
                if notes.count() > MOST_READ {
                    text.push_str("show_moves = false\n");
                }
                literal.tonic
            }
        };
        if matches!(self.says, Says::Moves { .. }) && over::has_several_roots(phrase) {
            // One symbol over all of it would be wrong.
            text.push_str("chord_symbols = false\n");
        }
        text.push_str("\n[keys]\n");
        line(&mut text, "order", "fourths");
        line(&mut text, "from", &root.to_string());
        if phrase.named == Named::Written {
            line(&mut text, "named", "written");
        }
        text.push('\n');
        text
    }

    fn count(&self, text: &mut String) {
        line(text, "count", &self.counted.count);
        if let Some(numbers) = self.counted.numbers {
            line(text, "numbers", numbers);
        }
    }

    /// What stands above the figure: how well the scale fits, or that there is
    /// none, which others do, and the chords that the phrase was played over
    /// where the figure doesn't have them.
    fn comments(&self) -> Vec<String> {
        let mut comments = Vec::new();
        let also = match self.says {
            Says::Moves { on, fit, .. } => {
                comments.push(sentence(fit));
                if let Some((home, borrowed)) = &on.home {
                    comments.push(format!(
                        "{} with {} borrowed into it.",
                        home.name,
                        degrees(borrowed)
                    ));
                }
                "It also goes"
            }
            Says::Literal(literal) => {
                let why = match literal.chords {
                    Some(_) => "It moves through the keys note for note, with its chords.",
                    None => "No scale holds it: it moves through the keys note for note.",
                };
                comments.push(why.to_owned());
                "As a figure of a scale it goes"
            }
        };
        let others: Vec<String> = self
            .others
            .iter()
            .map(|other| format!("{} {}", other.root, other.scale.name.to_lowercase()))
            .collect();
        if !others.is_empty() {
            comments.push(format!(
                "{also} on {}: lift it again with --scale to have it so.",
                others.join(" and on ")
            ));
        }
        if matches!(self.says, Says::Moves { .. }) && over::has_several_roots(self.phrase) {
            let bars = over::bars(self.phrase, Interval::UNISON);
            comments.extend(bars.map(|bars| format!("The chords over it: {bars}")));
        }
        comments
    }
}

/// The scale, and its chord.
fn scale(text: &mut String, on: &OnScale) {
    text.push_str("[scale]\n");
    match name(&on.scale) {
        Some(name) => line(text, "name", &name),
        None => line(text, "degrees", &degrees(&on.scale.degrees)),
    }
    if let Some(chord) = chord(on) {
        line(text, "chord", chord.id());
    }
}

/// How well the scale fits, as a sentence begins.
fn sentence(fit: Fit) -> String {
    let said = fit.to_string();
    let mut letters = said.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    first.into_iter().chain(letters).chain(['.']).collect()
}

/// A player whose range is said.
fn player(text: &mut String, player: &Player) {
    match player {
        Player::Unsaid | Player::Instrument(_) => {}
        Player::Reaching(instrument, range) => {
            text.push_str("\n[[player]]\n");
            line(text, "instrument", &instrument.id);
            line(text, "low", &range.low.to_string());
            line(text, "high", &range.high.to_string());
        }
        Player::Line { is_low, range } => {
            text.push_str("\n[[instrument]]\n");
            line(text, "name", LINE);
            line(text, "clef", if *is_low { "bass" } else { "treble" });
            line(text, "range", &format!("{} to {}", range.low, range.high));
        }
    }
}

/// The name that finds this very scale.
fn name(scale: &Scale) -> Option<String> {
    let id = scale.id.as_deref()?;
    let names = [
        scale.name.to_lowercase(),
        id.replace('-', " "),
        id.to_owned(),
    ];
    names
        .into_iter()
        .find(|name| Scale::named(name).is_ok_and(|found| found.id.as_deref() == Some(id)))
}

fn degrees(degrees: &[Degree]) -> String {
    let degrees: Vec<String> = degrees.iter().map(ToString::to_string).collect();
    degrees.join(" ")
}

/// The chord over the phrase, where the scale wouldn't show it by itself.
fn chord(on: &OnScale) -> Option<&Chord> {
    let symbol = on.chord.as_ref()?;
    let own = symbol.root == on.root && symbol.bass.is_none();
    Some(&symbol.chord).filter(|chord| own && on.scale.chord.as_ref() != Some(chord))
}

fn line(text: &mut String, key: &str, value: &str) {
    text.push_str(&format!("{key} = {}\n", quoted(value)));
}

/// A text in quotes; control characters, which a lesson can't hold, are left
/// out.
fn quoted(value: &str) -> String {
    lesson_text::quoted(&value.replace(char::is_control, " "))
}
