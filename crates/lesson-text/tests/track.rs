//! Feel and tracks: what is read, and what is said of mistakes.

mod render;

use lesson::{Feel, Lesson, Loudness, Swing, Track, TrackClick, TrackForm, TrackStyle};
use lesson_text::read;
use render::rendered;

fn text(row: &str) -> String {
    let of_head = row.starts_with("feel") || row.starts_with("track =");
    let head = if of_head { row } else { "" };
    let rest = if head.is_empty() { row } else { "" };
    format!(
        "title = \"A\"\n{head}\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up\"\n{rest}\n"
    )
}

fn lesson(row: &str) -> Option<Lesson> {
    read(&text(row), "stem").ok()
}

#[test]
fn feels() {
    let check = |typed: &str, feel| {
        let lesson = lesson(&format!("feel = \"{typed}\""));
        assert_eq!(lesson.map(|lesson| lesson.feel), feel, "{typed}");
    };
    let ratio = |long, short| Some(Feel::Swing(Swing::Ratio { long, short }));
    check("straight", Some(Feel::Straight));
    check("Swing", ratio(2, 1));
    check("swing-auto", Some(Feel::Swing(Swing::ByTempo)));
    check("swing 3:2", ratio(3, 2));
    check("swing 3 : 1", ratio(3, 1));
    check("swing 12:12", ratio(12, 12));
    check("swing 4:1", None);
    check("swing 1:2", None);
    check("swing 0:0", None);
    check("swing 13:12", None);
    check("swing 4294967296:1", None);
    check("3:2", None);
}

#[test]
fn tracks() {
    let check = |rows: &str, track| {
        assert_eq!(
            lesson(rows).map(|lesson| lesson.track),
            Some(track),
            "{rows}"
        );
    };
    check("", Track::default());
    check("[track]", Track::default());
    check(
        "[track]\ncount_in = 2\ntimes = 4\nforms = [\"backing\", \"Line Alone\", \"answer\", \"slow\", \"all-keys\"]\ntuning = 442",
        Track {
            count_in: 2,
            times: 4,
            forms: vec![
                TrackForm::Backing,
                TrackForm::LineAlone,
                TrackForm::Answer,
                TrackForm::Slow,
                TrackForm::AllKeys,
            ],
            tuning: 442,
            ..Track::default()
        },
    );
    check(
        "[track]\nstyle = \"Two-Beat\"\nclick = \"2 and 4\"\nlevels = { drums = 0, line = 150 }",
        Track {
            style: Some(TrackStyle::TwoBeat),
            click: Some(TrackClick::TwoAndFour),
            levels: Loudness {
                drums: 0,
                line: 150,
                ..Loudness::default()
            },
            ..Track::default()
        },
    );
    check(
        "track = { tuning = 415 }",
        Track {
            tuning: 415,
            ..Track::default()
        },
    );
}

#[test]
fn mistakes() {
    let rows = [
        "feel = \"swinging\"",
        "feel = \"swing atuo\"",
        "feel = \"swing 5:1\"",
        "feel = \"swing 1:2\"",
        "feel = \"waltz\"",
        "track = 4",
        "[track]\ncountin = 2",
        "[track]\ncount_in = 3",
        "[track]\ncount_in = \"2\"",
        "[track]\ntimes = 0",
        "[track]\ntimes = 21",
        "[track]\ntuning = 444.5",
        "[track]\ntuning = 495",
        "[track]\nforms = \"backing\"",
        "[track]\nforms = [\"bakcing\"]",
        "[track]\nforms = [\"karaoke\"]",
        "[track]\nforms = [\"slow\", \"slow\"]",
        "[track]\nforms = [1]",
        "[track]\nstyle = \"swign\"",
        "[track]\nstyle = 4",
        "[track]\nclick = \"all\"",
        "[track]\nlevels = 80",
        "[track]\nlevels = { line = 151 }",
        "[track]\nlevels = { drum = 50 }",
        "[track]\ntempo = 90",
        "[track]\n[track]",
        "[[track]]\ntimes = 2",
        "[[track]]\n[[track]]",
        "track\ntimes = 2",
        "[figure.track]\ntimes = 2",
        "[[exercise]]\nkind = \"figure\"\ntimes = 2",
    ];
    let told = |row: &&str| {
        format!(
            "{row}\n    {}",
            rendered(&text(row)).replace('\n', "\n    ")
        )
    };
    let told: Vec<String> = rows.iter().map(told).collect();
    insta::assert_snapshot!(told.join("\n\n"));
}
