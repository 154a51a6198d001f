//! A walk over a document's marks, one at a time: depth is counted, entities
//! of the document's own are refused, and nothing it points to is fetched.

use std::borrow::Cow;

use quick_xml::XmlVersion;
use quick_xml::errors::{Error, IllFormedError, SyntaxError};
use quick_xml::events::{BytesStart, Event};
use quick_xml::reader::Reader;

use crate::reading::BROKEN;
use crate::shown::shown;
use crate::{Place, ReadError, limit};

/// One mark of a document.
#[derive(Debug)]
pub(crate) enum Token {
    /// An element begins.
    Start(Tag),
    /// The innermost element ends.
    End,
    /// Text, its references resolved.
    Text(String),
    /// The document is over.
    Over,
}

/// The beginning of an element.
#[derive(Debug)]
pub(crate) struct Tag {
    /// Its name without a namespace's prefix.
    pub name: String,
    /// Its attributes, likewise.
    pub attributes: Vec<(String, String)>,
}

impl Tag {
    /// An attribute's value, white space around it left out.
    pub fn attribute(&self, name: &str) -> Option<&str> {
        let (_, value) = self.attributes.iter().find(|(own, _)| own == name)?;
        Some(value.trim())
    }
}

/// Where a walk has come to.
pub(crate) struct Walker<'a> {
    reader: Reader<&'a [u8]>,
    text: &'a str,
    depth: usize,
}

impl<'a> Walker<'a> {
    pub fn new(text: &'a str) -> Walker<'a> {
        let mut reader = Reader::from_str(text);
        reader.config_mut().expand_empty_elements = true;
        // A bare & is a slip of whoever wrote the file, and stands for itself.
        reader.config_mut().allow_dangling_amp = true;
        Walker {
            reader,
            text,
            depth: 0,
        }
    }

    /// The root element's beginning; text before it is passed over.
    pub fn first(&mut self) -> Result<Token, ReadError> {
        loop {
            match self.next()? {
                Token::Text(_) => {}
                token => return Ok(token),
            }
        }
    }

    /// The next mark; comments, instructions and the document type are passed
    /// over.
    pub fn next(&mut self) -> Result<Token, ReadError> {
        loop {
            let event = self
                .reader
                .read_event()
                .map_err(|error| self.fault(self.reader.error_position(), said(&error)))?;
            return Ok(match event {
                Event::Start(start) | Event::Empty(start) => {
                    self.depth += 1;
                    if self.depth > limit::DEPTH {
                        return Err(self.here(format!(
                            "elements stand more than {} deep inside each other",
                            limit::DEPTH
                        )));
                    }
                    Token::Start(self.tag(&start)?)
                }
                Event::End(_) => {
                    self.depth = self.depth.saturating_sub(1);
                    Token::End
                }
                Event::Text(text) => Token::Text(text.xml10_content().into_owned()),
                Event::CData(text) => Token::Text(text.xml10_content().into_owned()),
                Event::GeneralRef(reference) => {
                    let resolved = match reference.resolve_char_ref() {
                        Ok(Some(letter)) => Some(letter),
                        Ok(None) => predefined(&reference),
                        Err(_) => None,
                    };
                    match resolved {
                        Some(letter) => Token::Text(letter.to_string()),
                        None => {
                            let name: &str = &reference;
                            return Err(self.here(own_entity(name)));
                        }
                    }
                }
                Event::Eof if self.depth > 0 => {
                    return Err(self.here("the file ends too early: its end is missing".to_owned()));
                }
                Event::Eof => Token::Over,
                Event::Comment(_) | Event::Decl(_) | Event::PI(_) | Event::DocType(_) => continue,
            });
        }
    }

    /// Passes over everything up to the end of the element that was just
    /// begun.
    pub fn skip(&mut self) -> Result<(), ReadError> {
        let outside = self.depth.saturating_sub(1);
        while self.depth > outside {
            if matches!(self.next()?, Token::Over) {
                break;
            }
        }
        Ok(())
    }

    /// A fault at the place reached.
    pub fn here(&self, reason: String) -> ReadError {
        self.fault(self.reader.buffer_position(), reason)
    }

    fn tag(&self, start: &BytesStart<'_>) -> Result<Tag, ReadError> {
        let mut attributes = Vec::new();
        for attribute in start.attributes().with_checks(false) {
            if attributes.len() == limit::ATTRIBUTES {
                let most = limit::ATTRIBUTES;
                return Err(self.here(format!("an element has more than {most} attributes")));
            }
            let attribute = attribute.map_err(|_| {
                let name = start.name();
                self.here(format!(
                    "the attributes of <{}> are broken",
                    crate::shown::short(name.0)
                ))
            })?;
            let value = attribute
                .normalized_value(XmlVersion::Implicit1_0)
                .map(Cow::into_owned)
                .or_else(|error| match error {
                    Error::Escape(_) => {
                        let plain: &str = &attribute.value;
                        match own_reference(plain) {
                            Some(name) => Err(self.here(own_entity(name))),
                            None => Ok(plain.to_owned()),
                        }
                    }
                    error => Err(self.here(said(&error))),
                })?;
            let name = attribute.key.local_name();
            attributes.push((name.as_ref().to_owned(), value));
        }
        Ok(Tag {
            name: start.local_name().as_ref().to_owned(),
            attributes,
        })
    }

    fn fault(&self, at: u64, reason: String) -> ReadError {
        let at = usize::try_from(at)
            .unwrap_or(usize::MAX)
            .min(self.text.len());
        let before = &self.text.as_bytes()[..at];
        let place = Place {
            line: Some(before.iter().filter(|byte| **byte == b'\n').count() + 1),
            ..Place::default()
        };
        ReadError {
            place: Box::new(place),
            reason,
            help: BROKEN,
        }
    }
}

/// The five entities of XML 1.0.
fn predefined(name: &str) -> Option<char> {
    Some(match name {
        "amp" => '&',
        "lt" => '<',
        "gt" => '>',
        "quot" => '"',
        "apos" => '\'',
        _ => return None,
    })
}

/// The first name that an & and a ; enclose and XML doesn't know; none where
/// each & stands alone.
fn own_reference(text: &str) -> Option<&str> {
    let mut parts = text.split('&');
    parts.next();
    let named = parts.filter_map(|part| part.split_once(';').map(|(name, _)| name));
    named
        .filter(|name| !name.is_empty() && predefined(name).is_none())
        .find(|name| !name.contains(|letter: char| letter.is_whitespace()))
}

fn own_entity(name: &str) -> String {
    format!(
        "{} is an entity of the file's own, which is never read: write the text itself",
        shown(name)
    )
}

/// What is wrong with the marks, in our words.
fn said(error: &Error) -> String {
    match error {
        Error::IllFormed(IllFormedError::MismatchedEndTag { expected, found }) => format!(
            "</{}> stands where </{}> should",
            crate::shown::short(found),
            crate::shown::short(expected)
        ),
        Error::IllFormed(IllFormedError::UnmatchedEndTag(name)) => {
            format!("</{}> closes nothing", crate::shown::short(name))
        }
        Error::IllFormed(IllFormedError::UnclosedReference) => {
            "an & begins no reference: write &amp; for the sign itself".to_owned()
        }
        Error::Syntax(
            SyntaxError::UnclosedTag
            | SyntaxError::UnclosedComment
            | SyntaxError::UnclosedCData
            | SyntaxError::UnclosedDoctype,
        ) => "a mark that begins here is never closed".to_owned(),
        error => format!("this is no well-formed XML ({error})"),
    }
}
