//! What holds for every sheet and take, well made or not.

use std::collections::BTreeMap;

use midly::{MetaMessage, MidiMessage, Smf, TrackEventKind};
use proptest::prelude::*;
use score::Score;

use super::{sheet, swinging};
use crate::{Performance, Role, Swing, SwingRatio, Take, Tracks, midi, perform};

fn bar() -> impl Strategy<Value = String> {
    let word = (
        prop::sample::select(vec!["", "", "", "Dm7@", "G13@", "N.C.@", "C/E@"]),
        prop::sample::select(vec!["", "", "~", "+", "++"]),
        prop::sample::select(vec!["r", "C4", "C4", "Bb5", "F#3"]),
        0u32..14,
        prop::sample::select(vec!["", "", "t"]),
    );
    let word = word.prop_map(|(chord, before, pitch, length, tuplet)| {
        let before = if pitch == "r" && before == "~" {
            ""
        } else {
            before
        };
        format!("{chord}{before}{pitch}/{length}{tuplet}")
    });
    (prop::bool::weighted(0.2), prop::collection::vec(word, 0..7))
        .prop_map(|(pickup, words)| format!("{}{}", if pickup { "^" } else { "" }, words.join(" ")))
}

fn any_sheet() -> impl Strategy<Value = Score> {
    let meters = vec!["4/4", "3/4", "2/2", "6/8", "5/4", "7/8", "12/8", "3/16"];
    (
        any::<bool>(),
        prop::option::of(prop::option::of(1u32..4)),
        prop::sample::select(vec![1u32, 2, 4, 6, 7, 24, 16_382]),
        prop::sample::select(meters),
        prop::collection::vec(bar(), 0..7),
    )
        .prop_map(|(swings, ground, divisions, meter, bars)| {
            let bars: Vec<&str> = bars.iter().map(String::as_str).collect();
            let mut score = if swings && !bars.is_empty() {
                swinging(divisions, meter, &bars)
            } else {
                sheet(divisions, meter, &bars)
            };
            if let Some(chorus) = ground {
                super::grounded(&mut score, chorus);
            }
            score
        })
}

fn any_take() -> impl Strategy<Value = Take> {
    (
        prop::option::of(any::<u16>()),
        prop::sample::select(vec![
            Swing::Straight,
            Swing::default(),
            Swing::ByTempo,
            Swing::Ratio(SwingRatio::new(7, 5).unwrap()),
        ]),
        0u8..4,
        0u8..4,
        any::<[bool; 4]>(),
        any::<bool>(),
        prop::option::of(prop::sample::select(super::STYLES.to_vec())),
    )
        .prop_map(
            |(tempo, swing, count_in, times, [line, chords, bass, click], answer, style)| Take {
                tempo,
                swing,
                count_in,
                times,
                tracks: Tracks {
                    line,
                    chords,
                    bass,
                    drums: bass,
                    click,
                },
                answer,
                style,
                ..Take::default()
            },
        )
}

/// Every note is a note, and no key sounds twice at once in a role.
fn check_notes(performance: &Performance) -> Result<(), TestCaseError> {
    for (_, strikes) in &performance.roles {
        let mut free = BTreeMap::new();
        let mut strikes = strikes.clone();
        strikes.sort_by_key(|strike| strike.onset);
        for strike in strikes {
            prop_assert!(
                strike.onset < strike.end && strike.end <= performance.end,
                "{strike:?}"
            );
            prop_assert!(strike.key < 128 && (1..128).contains(&strike.velocity));
            let before = free.insert(strike.key, strike.end);
            prop_assert!(
                before.is_none_or(|end| end <= strike.onset),
                "{strike:?} after {before:?}"
            );
        }
    }
    Ok(())
}

/// Every beginning in the file has its end, and every track is as long.
fn check_file(performance: &Performance) -> Result<(), TestCaseError> {
    let bytes = midi(performance);
    prop_assert_eq!(&bytes, &midi(performance));
    let file = Smf::parse(&bytes).unwrap();
    // the count-in and the click are one track
    let counts = |role: Role| {
        if role == Role::Count {
            Role::Click
        } else {
            role
        }
    };
    let mut struck: Vec<(Role, usize)> = Vec::new();
    for (role, strikes) in &performance.roles {
        match struck.last_mut().filter(|(last, _)| *last == counts(*role)) {
            Some((_, count)) => *count += strikes.len(),
            None => struck.push((counts(*role), strikes.len())),
        }
    }
    prop_assert_eq!(file.tracks.len(), 1 + struck.len());
    for (number, track) in file.tracks.iter().enumerate() {
        let mut sounding: BTreeMap<u8, u32> = BTreeMap::new();
        let mut at = 0;
        let mut begun = 0;
        for event in track {
            at += event.delta.as_int();
            match event.kind {
                TrackEventKind::Midi {
                    message: MidiMessage::NoteOn { key, .. },
                    ..
                } => {
                    begun += 1;
                    prop_assert_eq!(sounding.insert(key.as_int(), at), None);
                }
                TrackEventKind::Midi {
                    message: MidiMessage::NoteOff { key, .. },
                    ..
                } => {
                    prop_assert!(
                        sounding
                            .remove(&key.as_int())
                            .is_some_and(|onset| onset < at)
                    );
                }
                _ => {}
            }
        }
        prop_assert!(sounding.is_empty());
        prop_assert_eq!(at, performance.end);
        let end = track.last().map(|event| event.kind);
        prop_assert_eq!(end, Some(TrackEventKind::Meta(MetaMessage::EndOfTrack)));
        if let Some((_, count)) = number.checked_sub(1).map(|role| struck[role]) {
            prop_assert_eq!(begun, count);
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn every_note_ends_and_every_file_reads(
        sheets in prop::collection::vec(any_sheet(), 1..4),
        take in any_take(),
    ) {
        let sheets: Vec<&Score> = sheets.iter().collect();
        let performance = perform(&sheets, &take).unwrap();
        prop_assert!((480..=32_767).contains(&performance.per_quarter));
        check_notes(&performance)?;
        check_file(&performance)?;
    }

    #[test]
    fn the_line_is_whole_and_in_order(sheet in any_sheet(), take in any_take()) {
        let line = Tracks { line: true, ..take.tracks };
        let once = Take { times: 1, count_in: 0, answer: false, tracks: line, ..take };
        let notes = perform(&[&sheet], &once).unwrap().strikes(Role::Line).to_vec();
        let written = score::sounding_notes(&sheet);
        let written = written.iter().filter(|note| note.length > 0.into());
        let keys: Vec<i16> = written.map(|note| note.sounding.midi()).collect();
        prop_assert_eq!(notes.iter().map(|note| i16::from(note.key)).collect::<Vec<_>>(), keys);
        prop_assert!(notes.is_sorted_by(|a, b| a.onset < b.onset));
        let performance = perform(&[&sheet], &Take { tracks: line, ..take }).unwrap();
        let all = performance.strikes(Role::Line);
        prop_assert_eq!(all.len(), notes.len() * usize::from(take.times.max(1)));
    }

    #[test]
    fn only_halves_of_quarters_move(sheet in any_sheet(), ratio in 1u8..=3) {
        let take = Take { count_in: 0, tracks: Tracks::LINE_ALONE, ..Take::default() };
        let swing = Swing::Ratio(SwingRatio::new(ratio, 1).unwrap());
        let swung = perform(&[&sheet], &Take { swing, ..take }).unwrap();
        let straight = score::sounding_notes(&sheet);
        let straight = straight.iter().filter(|note| note.length > 0.into());
        let exact = 32_767 / sheet.divisions >= 12;
        let moves = i64::from(ratio) * 12 / i64::from(ratio + 1) - 6;
        for (note, strike) in straight.zip(swung.strikes(Role::Line)) {
            let moved = super::quarters(&swung, strike.onset) - note.onset;
            let twelfth = rhythm::Fraction::new(moves, 12);
            prop_assert!(!exact || moved == 0.into() || moved == twelfth, "{moved}");
        }
    }

    #[test]
    fn an_answer_is_as_long_as_its_call(sheet in any_sheet(), take in any_take()) {
        let take = Take { count_in: 0, times: 1, ..take };
        let plain = perform(&[&sheet], &Take { answer: false, ..take }).unwrap();
        let answered = perform(&[&sheet], &Take { answer: true, ..take }).unwrap();
        prop_assert_eq!(answered.end, 2 * plain.end);
        let lengths = |performance: &Performance| -> u32 {
            performance.strikes(Role::Line).iter().map(|note| note.end - note.onset).sum()
        };
        prop_assert_eq!(lengths(&answered), lengths(&plain));
    }
}
