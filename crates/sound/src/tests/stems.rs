//! Each role beside the whole, as it is rendered in every style.
#![allow(clippy::float_arithmetic)]

use std::io::Cursor;

use super::sound_font::uneven;
use super::{STYLES, grounded, sheet, swinging};
use crate::loudness::{Meter, loudness};
use crate::{Click, Performance, Recording, Role, Style, Take, Voice, perform};

/// LU over what accompanies the line, and under the whole a role is buried.
const OVER: std::ops::RangeInclusive<f64> = 4.0..=6.0;
const BURIED: f64 = 18.0;

type RoleFilter = fn(Role) -> bool;

/// The loudness of a form, in LUFS.
fn loud(recording: &mut Recording, heard: RoleFilter) -> Option<f64> {
    let balance = recording.balance().unwrap();
    let mut meter = Meter::new(2);
    let mut put = |block: &[i16]| {
        meter.take_in(block.len() / 2, |signal, frame| match signal {
            0 | 1 => f32::from(block[2 * frame + signal]) / 32_768.0,
            _ => 0.0,
        });
        Ok(())
    };
    recording.form(heard, &balance, &mut put).unwrap();
    let both = |means: &Vec<f32>| means.iter().map(|mean| f64::from(*mean)).sum();
    loudness(&meter.quarters.iter().map(both).collect::<Vec<f64>>())
}

fn performance(style: Style) -> Performance {
    let (meter, bars): (&str, [&str; 4]) = if style == Style::Waltz {
        let bars = ["Dm7@D5/4 F5/2", "G7@G5/4 B4/2", "CM7@E5/4 C5/2", "A7@C#5/6"];
        ("3/4", bars)
    } else {
        let bars = ["Dm7@D5/4 F5/4", "G7@G5/4 B4/4", "CM7@E5/8", "A7@C#5/8"];
        ("4/4", bars)
    };
    let mut score = match style {
        Style::Swing | Style::Shuffle | Style::TwoBeat => swinging(2, meter, &bars),
        _ => sheet(2, meter, &bars),
    };
    grounded(&mut score, Some(4));
    let take = Take {
        style: Some(style),
        click: Some(Click::AllBeats),
        times: 3,
        ..Take::default()
    };
    perform(&[&score], &take).unwrap()
}

/// Whether a style has a role; a bar that isn't whole would be played plain.
fn plays(style: Style, role: &str) -> bool {
    match role {
        "drums" => style.has_drums(),
        "bass" => style != Style::Drone,
        _ => true,
    }
}

#[test]
fn no_role_is_buried_in_any_style() {
    for style in STYLES {
        check(style, Voice::Plain);
    }
}

/// However loud its sounds are beside each other.
#[test]
fn no_role_is_buried_by_a_sound_font() {
    let font = uneven();
    for style in [Style::Swing, Style::Funk, Style::Waltz, Style::Drone] {
        check(style, Voice::Font(&font));
    }
}

fn check(style: Style, voice: Voice<'_>) {
    let performance = performance(style);
    let scratch = Cursor::new(Vec::new());
    let mut recording = Recording::new(&performance, voice, scratch).unwrap();
    let mut of = |heard: RoleFilter| loud(&mut recording, heard);
    let whole = of(|_| true).unwrap();
    let line = of(|role| role == Role::Line).unwrap();
    let over = line - of(|role| role != Role::Line).unwrap();
    assert!(
        OVER.contains(&over),
        "{style:?}: the line {over:.1} LU over"
    );
    let roles: [(&str, RoleFilter); 4] = [
        ("chords", |role| matches!(role, Role::Chords | Role::Drone)),
        ("bass", |role| role == Role::Bass),
        ("drums", |role| role == Role::Drums),
        ("click", |role| matches!(role, Role::Count | Role::Click)),
    ];
    for (name, heard) in roles {
        let Some(level) = of(heard) else {
            assert!(!plays(style, name), "{style:?}: no {name}");
            continue;
        };
        let under = whole - level;
        assert!(under < BURIED, "{style:?}: {name} {under:.1} LU under");
        assert!(level < line - 3.0, "{style:?}: {name} over the line");
    }
}
