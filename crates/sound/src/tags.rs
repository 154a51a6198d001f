//! What a player shows of a track.

/// What a file says of itself; an empty text is not said.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tags {
    /// The track's own title.
    pub title: String,
    /// Who plays: the part.
    pub performer: String,
    /// What it belongs to: the lesson.
    pub album: String,
    /// Its place among the player's tracks, from 1; 0 for none.
    pub number: u32,
    /// Beats a minute; 0 for none.
    pub tempo: u16,
    /// The sheet's edition.
    pub edition: String,
}

impl Tags {
    /// As FLAC says them (Vorbis comments, by their usual field names).
    pub(crate) fn comments(&self) -> Vec<String> {
        let number = said(self.number);
        let tempo = said(self.tempo.into());
        let fields = [
            ("TITLE", &self.title),
            ("ARTIST", &self.performer),
            ("PERFORMER", &self.performer),
            ("ALBUM", &self.album),
            ("TRACKNUMBER", &number),
            ("BPM", &tempo),
            ("VERSION", &self.edition),
        ];
        let filled = fields.into_iter().filter(|(_, value)| !value.is_empty());
        filled
            .map(|(name, value)| format!("{name}={value}"))
            .collect()
    }

    /// As WAV says them (RIFF INFO chunks).
    pub(crate) fn chunks(&self) -> Vec<([u8; 4], String)> {
        let comment = [
            (!self.edition.is_empty()).then(|| format!("Edition {}", self.edition)),
            (self.tempo > 0).then(|| format!("{} beats a minute", self.tempo)),
        ];
        let comment: Vec<String> = comment.into_iter().flatten().collect();
        let chunks = [
            (*b"INAM", self.title.clone()),
            (*b"IART", self.performer.clone()),
            (*b"IPRD", self.album.clone()),
            (*b"ITRK", said(self.number)),
            (*b"ICMT", comment.join(", ")),
        ];
        chunks
            .into_iter()
            .filter(|(_, value)| !value.is_empty())
            .collect()
    }
}

fn said(number: u32) -> String {
    if number == 0 {
        String::new()
    } else {
        number.to_string()
    }
}
