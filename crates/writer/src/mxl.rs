//! The compressed container of MusicXML (MusicXML 4.0, `container`).

use std::io::{self, Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use crate::sink::Sink;

/// Wraps a whole MusicXML document as an `.mxl` archive; the same document
/// gives the same bytes. `name` is the score's file name inside.
///
/// # Errors
/// A name or document that the archive format has no room for: a name past
/// 65,535 bytes, or one of the archive's own two.
pub fn mxl(document: &[u8], name: &str) -> io::Result<Vec<u8>> {
    let plain = SimpleFileOptions::default()
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644);
    let stored = plain.compression_method(CompressionMethod::Stored);
    let deflated = plain.compression_method(CompressionMethod::Deflated);
    let mut archive = ZipWriter::new(Cursor::new(Vec::with_capacity(4_096 + document.len() / 8)));
    archive.start_file("mimetype", stored)?;
    archive.write_all(b"application/vnd.recordare.musicxml")?;
    archive.start_file("META-INF/container.xml", deflated)?;
    archive.write_all(&container(name))?;
    archive.start_file(name, deflated)?;
    archive.write_all(document)?;
    Ok(archive.finish()?.into_inner())
}

fn container(name: &str) -> Vec<u8> {
    let mut out = Vec::new();
    let mut sink = Sink::new(&mut out);
    sink.put(concat!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n",
        "<container>\n",
        "  <rootfiles>\n",
        "    <rootfile full-path=\"",
    ));
    sink.text(name);
    sink.put(concat!(
        "\" media-type=\"application/vnd.recordare.musicxml+xml\"/>\n",
        "  </rootfiles>\n",
        "</container>\n",
    ));
    out
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use zip::ZipArchive;

    use super::*;

    #[test]
    fn files_stand_in_the_standards_order() {
        let bytes = mxl(b"<score-partwise/>", "04-f-sharp.musicxml").unwrap();
        let mut archive = ZipArchive::new(Cursor::new(&bytes)).unwrap();
        let mut read = |at: usize| {
            let mut file = archive.by_index(at).unwrap();
            let mut text = String::new();
            file.read_to_string(&mut text).unwrap();
            (file.name().to_owned(), text)
        };
        let own = |name: &str, text: &str| (name.to_owned(), text.to_owned());
        assert_eq!(
            read(0),
            own("mimetype", "application/vnd.recordare.musicxml")
        );
        let (name, container) = read(1);
        assert_eq!(name, "META-INF/container.xml");
        assert!(container.contains(
            r#"<rootfile full-path="04-f-sharp.musicxml" media-type="application/vnd.recordare.musicxml+xml"/>"#
        ));
        assert_eq!(read(2), own("04-f-sharp.musicxml", "<score-partwise/>"));
        assert_eq!(archive.len(), 3);
    }

    /// ZIP (APPNOTE.TXT 6.3.10, 4.3.7): the local header, so that the type can
    /// be read at fixed places of the file.
    #[test]
    fn the_type_is_plain_to_see() {
        let bytes = mxl(b"<score-partwise/>", "a.musicxml").unwrap();
        let short = |at: usize| u16::from_le_bytes([bytes[at], bytes[at + 1]]);
        assert_eq!(&bytes[..4], b"PK\x03\x04");
        assert_eq!(short(8), 0, "stored");
        assert_eq!(
            (short(10), short(12)),
            (0, 0x21),
            "midnight of 1 January 1980"
        );
        assert_eq!(short(28), 0, "no extra field");
        assert_eq!(
            &bytes[30..72],
            b"mimetypeapplication/vnd.recordare.musicxml"
        );
    }

    #[test]
    fn the_same_document_gives_the_same_bytes() {
        let archive = || {
            mxl(
                "<score-partwise>♭</score-partwise>".repeat(500).as_bytes(),
                "é & ♭.musicxml",
            )
            .unwrap()
        };
        assert_eq!(archive(), archive());
    }

    #[test]
    fn a_name_is_escaped_in_the_container() {
        let text = String::from_utf8(container("\"Stairs\" & <more>.musicxml")).unwrap();
        assert!(
            text.contains(r#"full-path="&quot;Stairs&quot; &amp; &lt;more&gt;.musicxml""#),
            "{text}"
        );
    }

    #[test]
    fn a_name_the_archive_cannot_hold_is_an_error() {
        let check = |name: &str| assert!(mxl(b"", name).is_err(), "{} bytes", name.len());
        check("mimetype");
        check("META-INF/container.xml");
        check(&"x".repeat(70_000));
    }
}
