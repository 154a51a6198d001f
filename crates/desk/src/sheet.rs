//! A sheet's pages as pictures.

use copyist::{Options, Pictures};
use engrave::Page;
use score::Score;

/// One page, and how many there are.
pub(crate) struct Drawing {
    pub svg: String,
    pub pages: usize,
}

/// The first page. `name` begins its ids.
pub(crate) fn first(score: &Score, name: &str) -> Drawing {
    let pages = drawn(score);
    Drawing {
        svg: pages
            .first()
            .map(|page| page.svg(&named(name, 0)))
            .unwrap_or_default(),
        pages: pages.len(),
    }
}

/// The pages after the first.
pub(crate) fn rest(score: &Score, name: &str) -> Vec<String> {
    let pages = drawn(score);
    let rest = pages.iter().enumerate().skip(1);
    rest.map(|(at, page)| page.svg(&named(name, at))).collect()
}

/// As `write` draws them.
fn drawn(score: &Score) -> Vec<Page> {
    Pictures::new(&Options::default()).pages(score)
}

fn named(name: &str, page: usize) -> String {
    format!("sheet-{name}-{}", page + 1)
}
