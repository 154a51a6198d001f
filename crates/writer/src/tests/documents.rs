//! Whole documents. They are valid against the MusicXML 4.0 schema, which the
//! program's outside tests hold them to.

use super::sheets;

#[test]
fn sheets_are_written_so() {
    for (name, score) in sheets::all() {
        insta::assert_snapshot!(name, sheets::document(&score));
    }
}

#[test]
fn the_document_is_appended_and_the_same_each_time() {
    let score = sheets::alto();
    let mut out = b"before".to_vec();
    crate::musicxml(&score, &mut out);
    crate::musicxml(&score, &mut out);
    let once = sheets::document(&score);
    assert_eq!(
        String::from_utf8(out).unwrap(),
        format!("before{once}{once}")
    );
}
