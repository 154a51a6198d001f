//! A small element with all that is in it: a note, a chord symbol, a bar
//! line. Its children are asked for by name, so that their order, which files
//! get wrong, doesn't matter.

use crate::walker::{Tag, Token, Walker};
use crate::{ReadError, limit};

/// An element read whole.
#[derive(Debug)]
pub(crate) struct Element {
    /// Its name and attributes.
    pub tag: Tag,
    /// Its text, that of its children left out.
    text: String,
    /// Its children in the file's order.
    pub inside: Vec<Element>,
}

impl Element {
    /// Reads on from an element's beginning to its end.
    pub fn read(walker: &mut Walker<'_>, tag: Tag) -> Result<Element, ReadError> {
        let mut left = limit::CHILD_ELEMENTS;
        let mut open: Vec<Element> = vec![Element::new(tag)];
        loop {
            let token = walker.next()?;
            let Some(innermost) = open.last_mut() else {
                return Err(walker.here("the file is damaged".to_owned()));
            };
            match token {
                Token::Start(tag) => {
                    left = left.checked_sub(1).ok_or_else(|| {
                        let most = limit::CHILD_ELEMENTS;
                        walker.here(format!("more than {most} elements stand in one"))
                    })?;
                    open.push(Element::new(tag));
                }
                Token::Text(text) => {
                    if innermost.text.len() + text.len() > limit::TEXT_BYTES {
                        let most = limit::TEXT_BYTES;
                        let name = crate::shown::short(&innermost.tag.name);
                        return Err(
                            walker.here(format!("<{name}> holds more than {most} bytes of text"))
                        );
                    }
                    innermost.text.push_str(&text);
                }
                Token::End => {
                    if let (Some(whole), outer) = (open.pop(), open.last_mut()) {
                        match outer {
                            Some(outer) => outer.inside.push(whole),
                            None => return Ok(whole),
                        }
                    }
                }
                Token::Over => {
                    return Err(
                        walker.here("the file ends too early: its end is missing".to_owned())
                    );
                }
            }
        }
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.tag.name
    }

    /// Its own text, white space around it left out.
    pub fn text(&self) -> &str {
        self.text.trim()
    }

    /// An attribute's value.
    pub fn attribute(&self, name: &str) -> Option<&str> {
        self.tag.attribute(name)
    }

    /// Whether an attribute says `yes`.
    pub fn says_yes(&self, name: &str) -> bool {
        self.attribute(name)
            .is_some_and(|value| value.eq_ignore_ascii_case("yes"))
    }

    /// Whether an attribute says `no`.
    pub fn says_no(&self, name: &str) -> bool {
        self.attribute(name)
            .is_some_and(|value| value.eq_ignore_ascii_case("no"))
    }

    /// The first child of a name.
    pub fn child(&self, name: &str) -> Option<&Element> {
        self.inside.iter().find(|child| child.name() == name)
    }

    /// Every child of a name.
    pub fn children<'e>(&'e self, name: &'e str) -> impl Iterator<Item = &'e Element> {
        self.inside.iter().filter(move |child| child.name() == name)
    }

    /// The text of the first child of a name, if it has any.
    pub fn said(&self, name: &str) -> Option<&str> {
        self.child(name)
            .map(Element::text)
            .filter(|text| !text.is_empty())
    }

    fn new(tag: Tag) -> Element {
        Element {
            tag,
            text: String::new(),
            inside: Vec::new(),
        }
    }
}
