//! A document as a tree, by quick-xml.

use std::collections::BTreeMap;

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

/// An element.
#[derive(Debug, Default)]
pub(crate) struct Tree {
    pub(crate) name: String,
    pub(crate) attributes: BTreeMap<String, String>,
    pub(crate) children: Vec<Tree>,
    pub(crate) text: String,
}

impl Tree {
    /// The document's root element.
    pub(crate) fn read(document: &str) -> Tree {
        let mut reader = Reader::from_str(document);
        let mut open = vec![Tree::default()];
        loop {
            match reader.read_event().unwrap() {
                Event::Start(start) => open.push(Tree::opened(&start)),
                Event::Empty(start) => {
                    let element = Tree::opened(&start);
                    open.last_mut().unwrap().children.push(element);
                }
                Event::End(_) => {
                    let element = open.pop().unwrap();
                    open.last_mut().unwrap().children.push(element);
                }
                Event::Text(text) => open.last_mut().unwrap().text += &text.xml10_content(),
                Event::GeneralRef(reference) => {
                    let whole = format!("&{};", &*reference);
                    open.last_mut().unwrap().text += &quick_xml::escape::unescape(&whole).unwrap();
                }
                Event::Decl(_) | Event::DocType(_) => {}
                Event::Eof => break,
                other => panic!("unexpected {other:?}"),
            }
        }
        assert_eq!(open.len(), 1, "every element ends");
        open.pop().unwrap().children.pop().unwrap()
    }

    /// Children of that name.
    pub(crate) fn all<'a, 'b>(
        &'a self,
        name: &'b str,
    ) -> impl Iterator<Item = &'a Tree> + use<'a, 'b> {
        self.children.iter().filter(move |child| child.name == name)
    }

    /// The first element at a path of names: `attributes/key/fifths`.
    pub(crate) fn find(&self, path: &str) -> Option<&Tree> {
        path.split('/').try_fold(self, |element, name| {
            element.children.iter().find(|child| child.name == name)
        })
    }

    /// Text of the first element at a path.
    pub(crate) fn text(&self, path: &str) -> Option<&str> {
        self.find(path).map(|element| element.text.as_str())
    }

    /// Whole number at a path.
    pub(crate) fn number(&self, path: &str) -> Option<i64> {
        self.text(path).map(|text| text.parse().unwrap())
    }

    /// An attribute.
    pub(crate) fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.get(name).map(String::as_str)
    }

    fn opened(start: &BytesStart<'_>) -> Tree {
        let attributes = start.attributes().map(|attribute| {
            let attribute = attribute.unwrap();
            let value = quick_xml::escape::unescape(&attribute.value)
                .unwrap()
                .into_owned();
            (attribute.key.as_ref().to_owned(), value)
        });
        Tree {
            name: start.name().as_ref().to_owned(),
            attributes: attributes.collect(),
            ..Tree::default()
        }
    }
}
