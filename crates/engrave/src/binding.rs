//! What is bound: its margins, and the list of what is in it.

use crate::Bookmark;
use crate::place::Micrometres;

/// How far a page's middle stands from its paper's, away from the binding.
const BINDING: Micrometres = 2_500;

/// The inner margin, where a book is bound, is the wider one.
pub(crate) fn binding(place: usize) -> Micrometres {
    if place.is_multiple_of(2) {
        BINDING
    } else {
        -BINDING
    }
}

/// What readers list beside the pages: how deep, what, on which page.
pub(crate) type Outline = Vec<(usize, String, usize)>;

/// Each under the last one before it that is less deep.
pub(crate) fn bookmarks(outline: &Outline, first: usize) -> Vec<Bookmark> {
    let mut top: Vec<Bookmark> = Vec::new();
    for (depth, title, page) in outline {
        let mut list = &mut top;
        for _ in 0..*depth {
            let Some(last) = list.len().checked_sub(1) else {
                break;
            };
            list = &mut list[last].under;
        }
        list.push(Bookmark {
            title: title.clone(),
            page: first + page,
            under: Vec::new(),
        });
    }
    top
}
