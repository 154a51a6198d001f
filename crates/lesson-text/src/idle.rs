//! Keys that would say nothing in an exercise of this or that kind.

use lesson::{ExerciseKind, Say};

use crate::report::Report;
use crate::walk::Walk;

/// Keys that say something only of what the student writes out.
pub(crate) const WRITTEN_OUT: [&str; 2] = ["line", "given"];

/// Tells of those in any other exercise.
pub(crate) fn only_written_out(walk: &Walk<'_>, kind: ExerciseKind, report: &mut Report<'_>) {
    for key in WRITTEN_OUT.into_iter().filter(|key| walk.has(key)) {
        report.mistake(
            &walk.key_place(key),
            format!(
                "{key} says nothing about an exercise of the kind {}",
                kind.word()
            ),
            "leave it out, or write kind = \"write out\"",
        );
    }
}

/// Keys that would say nothing in an exercise of a kind.
pub(crate) fn idle_keys(kind: ExerciseKind, say: Say) -> &'static [&'static str] {
    match kind {
        ExerciseKind::Scale => &[
            "figures",
            "say",
            "of",
            "pattern",
            "coming_down",
            "ending",
            "variant",
            "variants",
            "written",
            "slashes",
        ],
        ExerciseKind::Figure => &[
            "figures", "say", "of", "pattern", "span", "ending", "written", "slashes",
        ],
        ExerciseKind::Sequence => &["figures", "say", "of", "pattern", "written", "slashes"],
        ExerciseKind::Keys if say == Say::Figure => &[
            "figures", "of", "pattern", "span", "ending", "written", "slashes",
        ],
        ExerciseKind::Keys => &["figures", "of", "pattern", "written", "slashes"],
        ExerciseKind::Intervals | ExerciseKind::Runs => &["figures", "say", "written", "slashes"],
        ExerciseKind::Trade => &["figures", "say", "of", "pattern"],
        ExerciseKind::Changes => &[
            "say",
            "of",
            "pattern",
            "scale",
            "chord",
            "direction",
            "coming_down",
            "span",
            "when_too_wide",
            "ending",
            "written",
            "slashes",
        ],
        ExerciseKind::GuideTones | ExerciseKind::Targets => &[
            "figures",
            "say",
            "of",
            "pattern",
            "figure",
            "scale",
            "chord",
            "direction",
            "coming_down",
            "span",
            "when_too_wide",
            "ending",
            "variant",
            "variants",
            "written",
            "slashes",
        ],
    }
}

/// Tells of keys that say nothing in an exercise of this kind.
pub(crate) fn idle(walk: &Walk<'_>, kind: ExerciseKind, say: Say, report: &mut Report<'_>) {
    let keys = idle_keys(kind, say);
    for key in keys.iter().filter(|key| walk.has(key)) {
        let (message, help) = match (*key, kind) {
            (_, kind) if kind.goes_over_changes() => {
                (nothing_about(key, kind), "leave it out: the changes say it")
            }
            ("figures", _) => (
                nothing_about(key, kind),
                "write figure = and one of them, or say it in an exercise of the kind changes",
            ),
            ("written" | "slashes", _) => (
                nothing_about(key, kind),
                "leave it out, or say it in an exercise of the kind trade",
            ),
            ("of" | "pattern", _) => (
                nothing_about(key, kind),
                "leave it out, or say it in an exercise of the kind intervals or runs",
            ),
            (_, ExerciseKind::Keys) => (
                format!("{key} says nothing about a figure that is said once in each key"),
                "leave it out, or write say = \"sequence\"",
            ),
            ("say", _) => (
                nothing_about(key, kind),
                "leave it out, or say it in an exercise of the kind keys",
            ),
            _ => (
                nothing_about(key, kind),
                "leave it out, or say it in a sequence",
            ),
        };
        report.mistake(&walk.key_place(key), message, help);
    }
}

fn nothing_about(key: &str, kind: ExerciseKind) -> String {
    format!(
        "{key} says nothing about an exercise of the kind {}",
        kind.word()
    )
}
