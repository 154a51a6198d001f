//! A sheet's pages as pictures.

use engrave::Paper;
use score::Score;

/// One page, and how many there are.
pub(crate) struct Drawn {
    pub svg: String,
    pub pages: usize,
}

/// The first page. `name` begins its ids.
pub(crate) fn first(score: &Score, name: &str) -> Drawn {
    let drawn = engrave::sheet(score, Paper::A4);
    Drawn {
        svg: drawn
            .pages
            .first()
            .map(|page| page.svg(&named(name, 0)))
            .unwrap_or_default(),
        pages: drawn.pages.len(),
    }
}

/// The pages after the first.
pub(crate) fn rest(score: &Score, name: &str) -> Vec<String> {
    let drawn = engrave::sheet(score, Paper::A4);
    let pages = drawn.pages.iter().enumerate().skip(1);
    pages.map(|(at, page)| page.svg(&named(name, at))).collect()
}

fn named(name: &str, page: usize) -> String {
    format!("sheet-{name}-{}", page + 1)
}
