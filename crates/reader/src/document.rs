//! The document: its head, its list of parts, and its measures, by part or by
//! time.

use std::collections::BTreeMap;

use lesson::{Named, PlayedBy};

use crate::element::Element;
use crate::part::Part;
use crate::part_reader::{PartReader, is_read};
use crate::reading::{NOT_MUSICXML, TOO_MUCH};
use crate::shown::shown;
use crate::walker::{Tag, Token, Walker};
use crate::{ReadError, limit};

/// A score as it was read.
#[derive(Debug)]
pub(crate) struct Document {
    pub title: Option<String>,
    pub parts: Vec<Part>,
}

/// Reads a document, its pitches as they are asked for.
pub(crate) fn document(text: &str, named: Named) -> Result<Document, ReadError> {
    if !text.trim_start().starts_with('<') {
        let error = ReadError::whole("this is no MusicXML: it doesn't begin with <");
        return Err(error.with(NOT_MUSICXML));
    }
    let mut walker = Walker::new(text);
    let Token::Start(root) = walker.first()? else {
        let error = ReadError::whole("this is no MusicXML: it holds no element");
        return Err(error.with(NOT_MUSICXML));
    };
    let by_time = match root.name.as_str() {
        "score-partwise" => false,
        "score-timewise" => true,
        name => {
            let reason = format!(
                "this is no MusicXML score: its outermost element is {}, not score-partwise or \
                 score-timewise",
                shown(name)
            );
            return Err(walker.here(reason).with(NOT_MUSICXML));
        }
    };
    let mut reading = DocumentReader {
        named,
        ..DocumentReader::default()
    };
    while let Some(tag) = child(&mut walker)? {
        match (tag.name.as_str(), by_time) {
            ("work" | "movement-title" | "part-list" | "defaults", _) => {
                let element = Element::read(&mut walker, tag)?;
                reading.head(&element);
            }
            ("part", false) => reading.part(&mut walker, &tag)?,
            ("measure", true) => reading.measure_of_all(&mut walker, &tag)?,
            _ => walker.skip()?,
        }
    }
    if reading.parts.is_empty() {
        return Err(ReadError::whole("the score has no parts"));
    }
    Ok(Document {
        title: [reading.movement, reading.work]
            .into_iter()
            .flatten()
            .find(|title| !title.is_empty()),
        parts: reading
            .parts
            .into_iter()
            .map(|reader| reader.part)
            .collect(),
    })
}

/// The next child's beginning, text left out; none at the parent's end.
fn child(walker: &mut Walker<'_>) -> Result<Option<Tag>, ReadError> {
    loop {
        match walker.next()? {
            Token::Start(tag) => return Ok(Some(tag)),
            Token::Text(_) => {}
            Token::End | Token::Over => return Ok(None),
        }
    }
}

/// What the list of parts says of who plays one.
fn played_by(part: &Element) -> PlayedBy {
    let said = |within: Option<&Element>, name: &str| {
        let text = within?.said(name)?;
        Some(crate::shown::cut(text, 200)).filter(|text| !text.is_empty())
    };
    let instrument = part.child("score-instrument");
    PlayedBy {
        part: said(Some(part), "part-name"),
        instrument: said(instrument, "instrument-name"),
        sound_id: said(instrument, "instrument-sound"),
    }
}

#[derive(Debug, Default)]
struct DocumentReader {
    named: Named,
    work: Option<String>,
    movement: Option<String>,
    concert_score: bool,
    /// The list of parts: ids, and who plays them.
    names: BTreeMap<String, PlayedBy>,
    parts: Vec<PartReader>,
    measures: usize,
    events: usize,
}

impl DocumentReader {
    fn head(&mut self, element: &Element) {
        let title = |text: &str| crate::shown::cut(text, 200);
        match element.name() {
            "work" => self.work = element.said("work-title").map(title),
            "movement-title" if !element.text().is_empty() => {
                self.movement = Some(title(element.text()));
            }
            "defaults" => self.concert_score = element.child("concert-score").is_some(),
            "part-list" => {
                for part in element.children("score-part").take(limit::PARTS) {
                    let id = part.attribute("id").unwrap_or_default();
                    self.names
                        .entry(id.to_owned())
                        .or_insert_with(|| played_by(part));
                }
            }
            _ => {}
        }
    }

    fn part(&mut self, walker: &mut Walker<'_>, tag: &Tag) -> Result<(), ReadError> {
        let at = self.part_of(walker, tag)?;
        while let Some(tag) = child(walker)? {
            if tag.name == "measure" {
                self.measure(walker, at, &tag)?;
            } else {
                walker.skip()?;
            }
        }
        Ok(())
    }

    fn measure_of_all(&mut self, walker: &mut Walker<'_>, measure: &Tag) -> Result<(), ReadError> {
        while let Some(tag) = child(walker)? {
            if tag.name == "part" {
                let at = self.part_of(walker, &tag)?;
                self.measure(walker, at, measure)?;
            } else {
                walker.skip()?;
            }
        }
        Ok(())
    }

    /// The place of the part that an element names, made if it is new.
    fn part_of(&mut self, walker: &Walker<'_>, tag: &Tag) -> Result<usize, ReadError> {
        let id = tag.attribute("id").unwrap_or_default();
        if let Some(at) = self.parts.iter().position(|reader| reader.part.id == id) {
            return Ok(at);
        }
        if self.parts.len() == limit::PARTS {
            let reason = format!("the score has more than {} parts", limit::PARTS);
            return Err(walker.here(reason).with(TOO_MUCH));
        }
        let played_by = self.names.get(id).cloned().unwrap_or_default();
        let id = crate::shown::cut(id, 200);
        let reader = PartReader::new(id, played_by, self.named, self.concert_score);
        self.parts.push(reader);
        Ok(self.parts.len() - 1)
    }

    fn measure(&mut self, walker: &mut Walker<'_>, at: usize, tag: &Tag) -> Result<(), ReadError> {
        self.measures += 1;
        if self.measures > limit::MEASURES {
            let reason = format!("the score has more than {} measures", limit::MEASURES);
            return Err(walker.here(reason).with(TOO_MUCH));
        }
        let number = tag.attribute("number").unwrap_or_default();
        let implicit = tag
            .attribute("implicit")
            .is_some_and(|said| said.eq_ignore_ascii_case("yes"));
        let place = |mut error: ReadError| {
            error.place.measure = Some(crate::shown::short(number));
            error
        };
        self.parts[at].begin(crate::shown::cut(number, 20), implicit);
        while let Some(tag) = child(walker).map_err(place)? {
            if !is_read(&tag.name) {
                walker.skip().map_err(place)?;
                continue;
            }
            let element = Element::read(walker, tag).map_err(place)?;
            self.events += usize::from(matches!(element.name(), "note" | "harmony"));
            if self.events > limit::EVENTS {
                let reason = format!("the score has more than {} notes and chords", limit::EVENTS);
                return Err(place(walker.here(reason).with(TOO_MUCH)));
            }
            self.parts[at].take(&element);
        }
        Ok(())
    }
}
