//! look LESSON.toml OUT HORN KEY_INDEX [dpi]
#![allow(clippy::unwrap_used, clippy::print_stdout)]
use std::{env, fs};
fn main() {
    let a: Vec<String> = env::args().collect();
    let text = fs::read_to_string(&a[1]).unwrap();
    let mut lesson = lesson_text::read(&text, "x").unwrap().lesson;
    let model = lesson.players[0].clone();
    if a[3] != "-" {
        let mut p = model.clone();
        p.instrument = theory::Instrument::named(&a[3]).unwrap();
        (p.low, p.high, p.name) = (None, None, None);
        lesson.players = vec![p];
    }
    let composer = etude::Composer::new(&lesson).unwrap();
    let n: usize = a[4].parse().unwrap();
    let dpi: u16 = a.get(5).map_or(150, |d| d.parse().unwrap());
    let plan = &composer.plans()[n];
    let score = if a.get(6).is_some() {
        composer.answers(plan).unwrap().unwrap().score
    } else {
        composer.compose(plan).unwrap().score
    };
    let sheet = engrave::sheet(&score, engrave::Paper::A4);
    for (i, page) in sheet.pages.iter().enumerate() {
        fs::write(
            format!("{}-{}.png", a[2], i + 1),
            engrave::png(page, dpi).unwrap(),
        )
        .unwrap();
        fs::write(format!("{}-{}.svg", a[2], i + 1), page.svg("look")).unwrap();
    }
    println!("{} pages", sheet.pages.len());
}
