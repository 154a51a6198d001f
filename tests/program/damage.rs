//! Each single-character damage to a shipped lesson gives a message or a
//! lesson, never a panic.

use std::fs;
use std::panic::catch_unwind;
use std::path::Path;

use rayon::prelude::*;

use crate::support::{fresh, lesson, lessons, run};

/// What stands instead of a character: taken out, or another that TOML, the
/// moves or the count take for something.
const INSTEAD: [&str; 4] = ["", "\"", "9", "(♭"];

/// Of what is still a lesson, one in so many is composed, which is slow.
const COMPOSED: usize = 8;

fn check_damaged(text: &str, place: usize) {
    match lesson_text::read(text, "damaged") {
        Ok(lesson) => {
            // Composing must hold out too; one sheet tells.
            if place.is_multiple_of(COMPOSED)
                && let Ok(composer) = etude::Composer::new(&lesson)
                && let Some(plan) = composer.plans().first()
            {
                let _ = composer.compose(plan);
            }
        }
        Err(mistakes) => {
            assert!(!mistakes.is_empty());
            for mistake in mistakes {
                assert!(text.get(mistake.span.clone()).is_some(), "{mistake:?}");
                assert!(
                    !mistake.message.is_empty() && !mistake.help.is_empty(),
                    "{mistake:?}"
                );
            }
        }
    }
}

fn damaged(text: &str) -> impl Iterator<Item = String> {
    text.char_indices()
        .enumerate()
        .map(|(count, (at, letter))| {
            let instead = INSTEAD[count % INSTEAD.len()];
            format!(
                "{}{instead}{}",
                &text[..at],
                &text[at + letter.len_utf8()..]
            )
        })
}

#[test]
fn no_damage_is_a_panic() {
    lessons().par_iter().for_each(|path| {
        let text = fs::read_to_string(path).unwrap();
        for (place, damaged) in damaged(&text).enumerate() {
            assert!(
                catch_unwind(|| check_damaged(&damaged, place)).is_ok(),
                "{}:\n{damaged}",
                path.display()
            );
        }
        let ends = text.char_indices().map(|(at, _)| at).step_by(7);
        for (place, end) in ends.enumerate() {
            assert!(
                catch_unwind(|| check_damaged(&text[..end], place)).is_ok(),
                "{} cut at {end}",
                path.display()
            );
        }
    });
}

#[test]
fn the_program_holds_out_too() {
    let folder = fresh("damage");
    let text = fs::read_to_string(Path::new(&lessons()[0])).unwrap();
    for damaged in damaged(&text).step_by(37) {
        let path = lesson(&folder, "damaged.toml", &damaged);
        let ran = run(["check", path.to_str().unwrap()]);
        assert!([0, 2, 3].contains(&ran.code), "{}:\n{damaged}", ran.err);
        assert_eq!(
            ran.code == 2,
            ran.err.contains("mistake"),
            "{}:\n{damaged}",
            ran.err
        );
    }
}
