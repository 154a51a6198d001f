//! The kinds of files that are made.

/// A kind of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// MusicXML 4.0.
    MusicXml,
    /// Compressed MusicXML 4.0.
    Mxl,
    /// Practice tracks: Standard MIDI Files.
    Midi,
    /// Practice tracks as audio, uncompressed.
    Wav,
    /// Practice tracks as audio, compressed without loss.
    Flac,
    /// Pages to print, and a bound book for each player.
    Pdf,
    /// Pages as vector pictures.
    Svg,
    /// Pages as pictures made of dots.
    Png,
    /// A page for each player to practise with, sheets and player in one file.
    Page,
}

impl Format {
    /// Whether its pages are drawn.
    pub fn is_picture(self) -> bool {
        matches!(self, Format::Pdf | Format::Svg | Format::Png)
    }

    /// Whether it is heard, not read.
    pub fn is_track(self) -> bool {
        self == Format::Midi || self.is_audio()
    }

    /// Whether it is made of samples.
    pub fn is_audio(self) -> bool {
        matches!(self, Format::Wav | Format::Flac)
    }

    /// Whether its files are made so fast that a killed run may make a
    /// lesson's again.
    pub fn is_quick(self) -> bool {
        matches!(self, Format::MusicXml | Format::Mxl | Format::Midi)
    }

    /// The ending of its files' names.
    pub fn ending(self) -> &'static str {
        match self {
            Format::MusicXml => "musicxml",
            Format::Mxl => "mxl",
            Format::Midi => "mid",
            Format::Wav => "wav",
            Format::Flac => "flac",
            Format::Pdf => "pdf",
            Format::Svg => "svg",
            Format::Png => "png",
            Format::Page => "html",
        }
    }
}
