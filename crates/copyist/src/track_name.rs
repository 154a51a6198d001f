//! What the files of tracks are called.

use crate::format::Format;

/// The names of a sheet's tracks. MIDI has the sheet's own; audio, which is
/// carried off to telephones, says where it is from.
#[derive(Debug, Clone, Copy)]
pub struct TrackName<'a> {
    /// The lesson's folder.
    pub lesson: &'a str,
    /// The sheet within it, without its ending: `alto-saxophone/01-a`.
    pub sheet: &'a str,
}

impl TrackName<'_> {
    /// A version's file within the lesson's folder.
    pub fn file(self, suffix: &str, format: Format) -> String {
        let stem = if format.is_audio() {
            self.audio(suffix)
        } else {
            self.midi(suffix)
        };
        format!("{stem}.{}", format.ending())
    }

    /// `alto-saxophone/01-a-slow`
    pub fn midi(self, suffix: &str) -> String {
        format!("{}{suffix}", self.sheet)
    }

    /// `alto-saxophone/lantern-stairs-alto-saxophone-01-a-slow`
    pub fn audio(self, suffix: &str) -> String {
        let (player, name) = self.sheet.rsplit_once('/').unwrap_or(("", self.sheet));
        format!("{player}/{}-{player}-{name}{suffix}", self.lesson)
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
        let name = TrackName {
            lesson: "lantern-stairs",
            sheet: "alto-saxophone/01-a",
        };
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
