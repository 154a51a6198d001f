//! A page read back as shapes and set text, which PDF and PNG are made from.

use resvg::usvg::{Error, FontResolver, Options, Tree};

use crate::{Page, fonts};

/// The page's SVG, each text set in the carried font it names and no other: a
/// search for missing characters would set what stands beside them anew, in a
/// font that has them all.
pub(crate) fn tree(page: &Page) -> Result<Tree, Error> {
    let options = Options {
        fontdb: fonts::database(),
        font_family: fonts::FAMILY.to_owned(),
        font_resolver: FontResolver {
            select_fallback: Box::new(|_, _, _| None),
            ..FontResolver::default()
        },
        ..Options::default()
    };
    Tree::from_str(&page.svg(), &options)
}
