//! Lines over changes: one plain figure beside etudes with everything on, in
//! the same run; a form of 64 bars, and changes of 62 bars sixteen times over
//! with every variant.

use std::hint::black_box;

use divan::Bencher;
use divan::counter::ItemsCount;
use etude::Composer;
use lesson::Lesson;

fn main() {
    divan::main();
}

/// What an exercise says beside its figures.
const PLAIN: &str = "figure = \"call\"\nvariants = [\"as it is\", \"flipped\", \"reversed\"]\n";
const THREE: &str = "figures = [\"call\", \"run\", \"long\"]\n\
    weights = { phrase = 3, high_point = 3 }\n";
const FLIPPED: &str = "figures = [\"call\", \"run\", \"long\"]\n\
    variants = [\"as it is\", \"flipped\"]\nweights = { phrase = 3, high_point = 3 }\n";
const EVERYTHING: &str = "figures = [\"call\", \"run\", \"long\"]\n\
    variants = [\"as it is\", \"flipped\"]\nconnect = \"run\"\nshift = \"over the bar\"\n\
    weights = { phrase = 3, high_point = 3, connect = 2 }\n";

/// A form of 64 bars on one horn in one key.
#[divan::bench(args = [("plain", PLAIN), ("three figures", THREE), ("three, flipped", FLIPPED), ("everything", EVERYTHING)])]
fn sixty_four_bars(bencher: Bencher<'_, '_>, (_, exercise): (&str, &str)) {
    let lesson = lesson(&text(1, exercise));
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    bencher
        .counter(ItemsCount::new(1usize))
        .bench_local(|| black_box(composer.compose(black_box(&composer.plans()[0]))));
}

/// The same in twelve keys for thirty horns.
#[divan::bench(args = [("plain", PLAIN), ("three figures", THREE)], sample_count = 3, sample_size = 1)]
fn for_everyone(bencher: Bencher<'_, '_>, (_, exercise): (&str, &str)) {
    let lesson = lesson(&text(30, exercise));
    let Some(composer) = Composer::new(&lesson).ok() else {
        return;
    };
    let plans = composer.plans();
    bencher
        .counter(ItemsCount::new(plans.len()))
        .bench_local(|| {
            for plan in plans {
                black_box(composer.compose(black_box(plan)).is_ok());
            }
        });
}

/// 62 bars, sixteen choruses, every variant of a figure of four notes.
#[divan::bench(args = ["", "weights = { phrase = 3, high_point = 3 }\n"], sample_count = 3, sample_size = 1)]
fn every_variant(bencher: Bencher<'_, '_>, weights: &str) {
    let choruses = vec!["\"line\""; 16].join(", ");
    let exercise =
        format!("figure = \"call\"\nvariants = \"all\"\nchoruses = [{choruses}]\n{weights}");
    let bars = "| Cmaj7 | Am7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Fmaj7 | Bb7 | Em7 | A7 | Dm7 | G7 | C6 | G7 ";
    let sixty_two: Vec<&str> = bars.split("| ").skip(1).cycle().take(62).collect();
    let text = format!(
        "title = \"Long\"\n[changes]\nkey = \"C\"\nbars = \"| {} |\"\n{FIGURES}\
         [[exercise]]\nkind = \"changes\"\n{exercise}",
        sixty_two.join("| ")
    );
    let lesson = lesson(&text);
    bencher.bench_local(|| {
        let composer = Composer::new(black_box(&lesson));
        composer.is_ok_and(|composer| composer.compose(&composer.plans()[0]).is_ok())
    });
}

fn text(horns: usize, exercise: &str) -> String {
    let instruments: Vec<String> = theory::Instrument::catalogue()
        .iter()
        .take(horns)
        .map(|instrument| format!("\"{}\"", instrument.id))
        .collect();
    format!(
        "title = \"Sixty-four\"\ninstruments = [{}]\n[changes]\nkey = \"C\"\n[[section]]\n\
         bars = \"| Cmaj7 | Am7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Fmaj7 | Bb7 | Em7 | A7 | Dm7 | G7 | C6 | G7 |\"\n\
         times = 4\n{FIGURES}[[exercise]]\nkind = \"changes\"\n{exercise}",
        instruments.join(", ")
    )
}

const FIGURES: &str = "[[figure]]\nname = \"call\"\n\
    moves = \"start, step up, step up, skip down, step up\"\ncount = \"1 & 2 & 3\"\n\
    [[figure]]\nname = \"run\"\n\
    moves = \"start, step up, step up, step up, step down, step down, step down\"\n\
    count = \"1 & 2 & 3 & 4\"\n\
    [[figure]]\nname = \"long\"\nmoves = \"start, up 2 steps, step down\"\ncount = \"1 2 3\"\n";

fn lesson(text: &str) -> Lesson {
    match lesson_text::read(text, "bench") {
        Ok(lesson) => lesson,
        Err(mistakes) => unreachable!("the lesson has no mistakes: {mistakes:?}"),
    }
}
