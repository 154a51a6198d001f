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
    let plain = SimpleFileOptions::default().last_modified_time(DateTime::default()).unix_permissions(0o644);
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
