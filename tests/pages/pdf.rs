//! What a PDF says to who reads, searches or listens to it.

use std::collections::BTreeSet;

use engrave::Paper;
use score::{Direction, Element};

use crate::{folder, scores};

#[test]
fn a_pdf_says_its_texts() {
    for lesson in ["lantern-stairs", "coal-barge-blues", "one-breath"] {
        let (name, score) = scores(&folder().join(format!("{lesson}.toml"))).remove(0);
        let sheet = engrave::sheet(&score, Paper::A4);
        let about = engrave::PdfInfo::default();
        let bytes = engrave::pdf(&sheet.pages, &about).unwrap();
        assert_eq!(bytes, engrave::pdf(&sheet.pages, &about).unwrap());
        let document = lopdf::Document::load_mem(&bytes).unwrap();
        let pages: Vec<u32> = document.get_pages().keys().copied().collect();
        assert_eq!(pages.len(), sheet.pages.len());
        let text = document.extract_text(&pages).unwrap();
        let said: String = text.split_whitespace().collect();
        let mut wanted: BTreeSet<String> =
            BTreeSet::from([score.title.clone(), score.part.name.clone()]);
        wanted.extend(score.chords.iter().map(|chord| chord.symbol.root.signs()));
        for measure in &score.part.measures {
            for direction in &measure.directions {
                if let Direction::Words(words) | Direction::Heading(words) = direction {
                    wanted.insert(words.to_string());
                }
            }
            for element in &measure.elements {
                if let Element::Note(note) = element {
                    wanted.extend(note.lyrics.iter().flatten().map(ToString::to_string));
                }
            }
        }
        for wanted in wanted {
            let wanted: String = wanted.split_whitespace().collect();
            assert!(said.contains(&wanted), "{name}: {wanted} in {text}");
        }
    }
}

/// Headings and pictures of a PDF, as a screen reader finds them.
#[test]
fn a_pdf_is_tagged() {
    let (_, score) = scores(&folder().join("lantern-stairs.toml")).remove(0);
    let sheet = engrave::sheet(&score, Paper::A4);
    let bytes = engrave::pdf(&sheet.pages, &engrave::PdfInfo::default()).unwrap();
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let mut tags: Vec<(String, String)> = Vec::new();
    for object in document.objects.values() {
        let Ok(dictionary) = object.as_dict() else {
            continue;
        };
        let Ok(kind) = dictionary.get(b"S").and_then(lopdf::Object::as_name) else {
            continue;
        };
        let said = dictionary.get(b"Alt").or_else(|_| dictionary.get(b"T"));
        let said = said
            .ok()
            .and_then(|text| lopdf::decode_text_string(text).ok());
        tags.push((
            String::from_utf8_lossy(kind).into_owned(),
            said.unwrap_or_default(),
        ));
    }
    let of = |kind: &str| tags.iter().filter(|(tag, _)| tag == kind).count();
    let says = |kind: &str, text: &str| tags.contains(&(kind.to_owned(), text.to_owned()));
    assert_eq!(of("H1"), 1, "{tags:?}");
    assert!(says("H1", &score.title), "{tags:?}");
    assert_eq!(of("H2"), sheet.exercises.len(), "{tags:?}");
    assert!(says("Figure", "bars 1 to 3"), "{tags:?}");
    let systems = sheet.pages.iter().flat_map(|page| &page.frames);
    let systems = systems.filter(|placed| matches!(placed.frame.tag, engrave::Tag::Figure(_)));
    assert_eq!(of("Figure"), systems.count());
}
