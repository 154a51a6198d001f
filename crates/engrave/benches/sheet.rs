//! One sheet of `lantern-stairs.toml`, composed beforehand: its pages laid out,
//! and each output made of it; two pages. `tests/bench/engraving.py` sets an
//! independent engraver beside the same sheets.
#![allow(clippy::unwrap_used, missing_docs)]

use divan::Bencher;
use engrave::{Paper, PdfInfo};
use etude::Composer;
use score::Score;

fn main() {
    divan::main();
}

fn score() -> Score {
    let text = include_str!("../../../fixtures/lessons/lantern-stairs.toml");
    let lesson = lesson_text::read(text, "lantern-stairs").unwrap();
    let composer = Composer::new(&lesson).unwrap();
    composer.compose(&composer.plans()[0]).unwrap().score
}

#[divan::bench]
fn laid_out(bencher: Bencher<'_, '_>) {
    let score = score();
    bencher.bench_local(|| engrave::sheet(&score, Paper::A4));
}

#[divan::bench]
fn svg(bencher: Bencher<'_, '_>) {
    let score = score();
    bencher.bench_local(|| {
        let sheet = engrave::sheet(&score, Paper::A4);
        let pages = sheet.pages.iter().map(|page| page.svg("sheet").len());
        pages.sum::<usize>()
    });
}

#[divan::bench]
fn pdf(bencher: Bencher<'_, '_>) {
    let score = score();
    bencher.bench_local(|| {
        let sheet = engrave::sheet(&score, Paper::A4);
        engrave::pdf(&sheet.pages, &PdfInfo::default())
            .unwrap()
            .len()
    });
}

/// A page at 150 dots to the inch.
#[divan::bench]
fn png(bencher: Bencher<'_, '_>) {
    let sheet = engrave::sheet(&score(), Paper::A4);
    bencher.bench_local(|| engrave::png(&sheet.pages[0], 150).unwrap().len());
}
