//! What the files of tracks are called.

use crate::format::Format;

/// The names of a sheet's tracks, without what tells its versions apart. MIDI
/// has the sheet's own; audio, which is carried off to telephones, says where
/// it is from.
#[derive(Debug, Clone)]
pub struct TrackName {
    /// The sheet, without its ending: `alto-saxophone/01-a`.
    pub sheet: String,
    midi: String,
    audio: String,
}

impl TrackName {
    /// Beside the sheet: `alto-saxophone/01-a` of a lesson.
    pub fn beside(lesson: &str, sheet: &str) -> TrackName {
        let (player, name) = sheet.rsplit_once('/').unwrap_or(("", sheet));
        TrackName {
            sheet: sheet.to_owned(),
            midi: sheet.to_owned(),
            audio: format!("{player}/{lesson}-{player}-{name}"),
        }
    }

    /// In a week of a course, `week-03`: lessons lie beside each other there.
    pub fn in_week(player: &str, week: &str, lesson: &str, name: &str) -> TrackName {
        let midi = format!("{player}/{week}/{lesson}-{name}");
        TrackName {
            sheet: midi.clone(),
            midi,
            audio: format!("{player}/{week}/{lesson}-{player}-{name}"),
        }
    }

    /// A version's file within the folder of the lesson or the course.
    pub fn file(&self, suffix: &str, format: Format) -> String {
        let stem = if format.is_audio() {
            self.audio(suffix)
        } else {
            self.midi(suffix)
        };
        format!("{stem}.{}", format.ending())
    }

    /// `alto-saxophone/01-a-slow`
    pub fn midi(&self, suffix: &str) -> String {
        format!("{}{suffix}", self.midi)
    }

    /// `alto-saxophone/lantern-stairs-alto-saxophone-01-a-slow`
    pub fn audio(&self, suffix: &str) -> String {
        format!("{}{suffix}", self.audio)
    }
}

/// A player's list of all audio, in playing order.
pub fn playlist(lesson: &str, player: &str) -> String {
    format!("{player}/{lesson}-{player}.m3u8")
}

/// The list's text: each track's title over its file in the same folder
/// (extended M3U in UTF-8).
pub fn playlist_text<'a>(tracks: impl Iterator<Item = &'a str>) -> String {
    let mut text = "#EXTM3U\n".to_owned();
    for file in tracks {
        let name = file.rsplit('/').next().unwrap_or(file);
        text.push_str(name);
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn midi_has_the_sheets_name_and_audio_a_longer_one() {
        let name = TrackName::beside("lantern-stairs", "alto-saxophone/01-a");
        let check =
            |suffix, format, expected: &str| assert_eq!(name.file(suffix, format), expected);
        check("", Format::Midi, "alto-saxophone/01-a.mid");
        check(
            "-slow",
            Format::Flac,
            "alto-saxophone/lantern-stairs-alto-saxophone-01-a-slow.flac",
        );
        check(
            "-72-backing",
            Format::Wav,
            "alto-saxophone/lantern-stairs-alto-saxophone-01-a-72-backing.wav",
        );
        let week = TrackName::in_week("noor", "week-03", "ferry", "01-a");
        assert_eq!(week.midi("-slow"), "noor/week-03/ferry-01-a-slow");
        assert_eq!(week.audio(""), "noor/week-03/ferry-noor-01-a");
        assert_eq!(
            playlist("lantern-stairs", "flute"),
            "flute/lantern-stairs-flute.m3u8"
        );
        assert_eq!(
            playlist_text(["flute/a.flac", "flute/b.flac"].into_iter()),
            "#EXTM3U\na.flac\nb.flac\n"
        );
    }
}
