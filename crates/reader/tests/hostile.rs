//! Files made or broken to do harm: each gives one clear message or is read,
//! quickly and in little memory, and nothing ever panics.
#![cfg(test)]

use std::fmt::Write as _;
use std::fs;
use std::io::{Cursor, Write as _};
use std::path::Path;

use proptest::prelude::*;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use lesson::Named;
use reader::Selection;

/// The one message that a file is refused with, the same as changes and as a
/// phrase.
fn check(bytes: &[u8], expected: &str) {
    let asked = Selection::default();
    let changes = reader::changes(bytes, &asked).unwrap_err().to_string();
    let phrase = reader::phrase(bytes, &asked, None).unwrap_err().to_string();
    assert_eq!((changes.as_str(), phrase.as_str()), (expected, expected));
    assert!(little_memory(), "the file filled the memory");
}

/// Whether the whole process has stayed below a tenth of a gigabyte or four;
/// true where that can't be measured.
fn little_memory() -> bool {
    let Ok(status) = fs::read_to_string("/proc/self/status") else {
        return true;
    };
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = peak.and_then(|line| line.split_whitespace().next()?.parse::<u64>().ok());
    kilobytes.is_none_or(|kilobytes| kilobytes < 400_000)
}

fn archive(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        archive
            .start_file(*name, SimpleFileOptions::default())
            .unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

fn container(path: &str) -> Vec<u8> {
    format!("<container><rootfiles><rootfile full-path=\"{path}\"/></rootfiles></container>")
        .into_bytes()
}

const SMALL: &[u8] =
    b"<score-partwise><part id=\"P\"><measure number=\"1\"><note><pitch><step>C</step>\
    <octave>5</octave></pitch><type>whole</type></note></measure></part></score-partwise>";

#[test]
fn archives_that_unpack_without_end() {
    let bomb = vec![b' '; 40 * 1024 * 1024];
    let bytes = archive(&[
        ("META-INF/container.xml", &container("a.musicxml")),
        ("a.musicxml", &bomb),
    ]);
    assert!(bytes.len() < 1_000_000);
    check(&bytes, "“a.musicxml” unpacks to more than 33554432 bytes");
    // An archive that lies about its sizes is stopped all the same.
    let size = u32::try_from(bomb.len()).unwrap().to_le_bytes();
    let mut lying = bytes.clone();
    while let Some(at) = lying.windows(4).position(|four| four == size) {
        lying[at..at + 4].copy_from_slice(&100u32.to_le_bytes());
    }
    let asked = Selection::default();
    assert!(reader::changes(&lying, &asked).is_err());
    let bytes = archive(&[("META-INF/container.xml", &bomb)]);
    check(
        &bytes,
        "“META-INF/container.xml” unpacks to more than 65536 bytes",
    );
    let many: Vec<String> = (0..5_000).map(|at| format!("{at}.xml")).collect();
    let many: Vec<(&str, &[u8])> = many.iter().map(|name| (name.as_str(), SMALL)).collect();
    check(&archive(&many), "the archive holds more than 4096 files");
}

/// Whatever the list names is looked up in the archive alone, and what the
/// system left in it is no score.
#[test]
fn only_the_archive_is_read() {
    let read = |files: &[(&str, &[u8])]| {
        let reading = reader::phrase(&archive(files), &Selection::default(), None)?;
        let warnings: Vec<String> = reading.warnings.iter().map(ToString::to_string).collect();
        Ok::<_, reader::ReadError>(
            warnings
                .into_iter()
                .filter(|line| line.contains("archive") || line.contains("score"))
                .collect::<Vec<_>>(),
        )
    };
    let listed = |path: &str| container(path);
    assert_eq!(
        read(&[
            ("META-INF/container.xml", &listed("x/b.musicxml")),
            ("a.musicxml", b"<no/>"),
            ("x/b.musicxml", SMALL)
        ]),
        Ok(vec![])
    );
    assert_eq!(
        read(&[
            (
                "META-INF/container.xml",
                &listed("../../../../etc/hostname")
            ),
            ("a.musicxml", SMALL)
        ]),
        Ok(vec![
            "the archive's list names “../../../../etc/hostname”, which isn't in it".to_owned(),
            "“a.musicxml” was taken for the score".to_owned(),
        ])
    );
    let junk: [(&str, &[u8]); 4] = [
        ("__MACOSX/._a.musicxml", b"\0\x05\x16\x07"),
        (".hidden.musicxml", b"<no/>"),
        ("META-INF/other.xml", b"<no/>"),
        ("deep/a.xml", SMALL),
    ];
    assert_eq!(
        read(&junk),
        Ok(vec![
            "the archive has no META-INF/container.xml".to_owned(),
            "“deep/a.xml” was taken for the score".to_owned(),
        ])
    );
    let pdf = b"<container><rootfiles><rootfile full-path='a.pdf' media-type='application/pdf'/>\
        <rootfile full-path='a.xml' media-type='application/vnd.recordare.musicxml+xml'/></rootfiles></container>";
    assert_eq!(
        read(&[
            ("META-INF/container.xml", pdf),
            ("a.pdf", b"%PDF"),
            ("a.xml", SMALL)
        ]),
        Ok(vec![])
    );
    let nothing = read(&[("readme.txt", b"x")]).unwrap_err().to_string();
    assert_eq!(nothing, "the archive holds no MusicXML file");
}

#[test]
fn entities_are_never_read() {
    let mut laughs =
        "<?xml version=\"1.0\"?>\n<!DOCTYPE score-partwise [\n<!ENTITY a \"ha\">\n".to_owned();
    for (name, of) in ('b'..='k').zip('a'..='j') {
        let ten = format!("&{of};").repeat(10);
        writeln!(laughs, "<!ENTITY {name} \"{ten}\">").unwrap();
    }
    laughs += "]>\n<score-partwise><movement-title>&k;</movement-title></score-partwise>";
    check(
        laughs.as_bytes(),
        "line 15: “k” is an entity of the file's own, which is never read: write the text itself",
    );
    let attribute = laughs.replace("<movement-title>&k;", "<movement-title x=\"&k;\">");
    check(
        attribute.as_bytes(),
        "line 15: “k” is an entity of the file's own, which is never read: write the text itself",
    );
    let outside = "<!DOCTYPE score-partwise [<!ENTITY x SYSTEM \"file:///etc/hostname\">]>\
        <score-partwise><credit><credit-words>&x;</credit-words></credit></score-partwise>";
    check(
        outside.as_bytes(),
        "line 1: “x” is an entity of the file's own, which is never read: write the text itself",
    );
}

#[test]
fn too_deep_and_too_many() {
    let repeat = |piece: &str, bytes: usize| piece.repeat(bytes / piece.len());
    let deep = "<score-partwise>".to_owned() + &"<a>".repeat(200_000);
    check(
        deep.as_bytes(),
        "line 1: elements stand more than 64 deep inside each other",
    );
    let most = 6 * 1024 * 1024;
    let inside = |inside: String| {
        format!(
            "<score-partwise><part id=\"P\"><measure number=\"7\">{inside}</measure></part></score-partwise>"
        )
    };
    check(
        inside(repeat("<note><rest/></note>", most)).as_bytes(),
        "line 1, measure 7: the score has more than 250000 notes and chords",
    );
    check(
        inside("<note>".to_owned() + &repeat("<a/>", most) + "</note>").as_bytes(),
        "line 1, measure 7: more than 2000 elements stand in one",
    );
    check(
        inside("<note>".to_owned() + &repeat("x", most) + "</note>").as_bytes(),
        "line 1, measure 7: <note> holds more than 10000 bytes of text",
    );
    check(
        inside("<note ".to_owned() + &repeat("a='' ", most) + "/>").as_bytes(),
        "line 1, measure 7: an element has more than 200 attributes",
    );
    let parts = "<score-partwise>".to_owned() + &repeat("<part><measure/></part>", most);
    check(
        parts.as_bytes(),
        "line 1: the score has more than 100000 measures",
    );
    let mut parts = "<score-partwise>".to_owned();
    for id in 0..1_000 {
        write!(parts, "<part id=\"{id}\"/>").unwrap();
    }
    check(
        parts.as_bytes(),
        "line 1: the score has more than 500 parts",
    );
    check(
        &vec![b'<'; 33 * 1024 * 1024],
        "the file has more than 33554432 bytes",
    );
    let endings = inside(format!(
        "<barline><ending type=\"start\" number=\"{}\"/></barline><note><rest/></note>",
        repeat("1-99,", most)
    ));
    assert!(reader::changes(endings.as_bytes(), &Selection::default()).is_ok());
    assert!(little_memory());
}

#[test]
fn numbers_beyond_all_music() {
    let read = |divisions: &str, duration: &str| {
        let note = format!(
            "<note><pitch><step>C</step><octave>5</octave></pitch><duration>{duration}</duration></note>"
        );
        let xml = format!(
            "<score-partwise><part id=\"P\"><measure number=\"1\"><attributes><divisions>{divisions}</divisions>\
             </attributes>{note}{note}{note}</measure></part></score-partwise>"
        );
        let error =
            reader::phrase(xml.as_bytes(), &Selection::default(), None).map(|_| String::new());
        error.unwrap_or_else(|error| error.to_string())
    };
    assert_eq!(read("1000000", "1"), "");
    assert_eq!(
        read("0", "1"),
        "measure 1, beat 1, <divisions>: “0” is no number of parts of a quarter"
    );
    assert_eq!(
        read("-4", "1"),
        "measure 1, beat 1, <divisions>: “-4” is no number of parts of a quarter"
    );
    assert_eq!(
        read("1", "-1"),
        "measure 1, beat 1, <duration>: “-1” is no duration"
    );
    assert_eq!(
        read("1", "99999999999999999999"),
        "measure 1, beat 1, <duration>: “99999999999999999999” is no duration"
    );
    assert_eq!(
        read("1", "999999999"),
        "measure 1, beat 1, <duration>: “999999999” is a time too long or too fine to hold"
    );
    assert_eq!(
        read("999983", "0.000001"),
        "measure 1, beat 1, <duration>: “0.000001” is a time too long or too fine to hold"
    );
}

fn fixtures() -> Vec<Vec<u8>> {
    let folder = Path::new(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../fixtures/notation"
    ));
    let mut files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            path.extension()
                .is_some_and(|ending| ending == "musicxml" || ending == "mxl")
        })
        .collect();
    files.sort();
    files.iter().map(|path| fs::read(path).unwrap()).collect()
}

/// Reads every way; messages stay short and on one line.
fn survives(bytes: &[u8]) {
    for named in [Named::Concert, Named::Written] {
        let asked = Selection {
            part: None,
            named,
            ..Selection::default()
        };
        let errors = [
            reader::changes(bytes, &asked).map(|reading| {
                let _ = reading.value.played().count();
            }),
            reader::phrase(bytes, &asked, None).map(|reading| {
                let notes = &reading.value.notes;
                assert!(notes.windows(2).all(|pair| pair[0].end() == pair[1].onset));
                assert!(notes.iter().all(|note| note.length > 0.into()));
            }),
            reader::phrase(bytes, &asked, "1-2".parse().ok()).map(|_| ()),
        ];
        for error in errors.into_iter().filter_map(Result::err) {
            let said = error.to_string();
            assert!(
                !said.is_empty() && said.chars().count() < 400 && !said.contains('\n'),
                "{said}"
            );
        }
    }
}

/// Truncated anywhere: every whole-file prefix of the small fixtures.
#[test]
fn truncated_files_are_refused() {
    for bytes in fixtures() {
        let end = bytes.len() - usize::from(bytes.ends_with(b"\n"));
        for length in (0..end).step_by(7) {
            assert!(
                reader::changes(&bytes[..length], &Selection::default()).is_err(),
                "{length}"
            );
        }
    }
}

/// A small score and a small archive with each of their bits turned.
#[test]
fn every_bit_turned() {
    let packed = archive(&[
        ("META-INF/container.xml", &container("a.xml")),
        ("a.xml", SMALL),
    ]);
    for whole in [SMALL, &packed] {
        for at in 0..whole.len() * 8 {
            let mut bytes = whole.to_vec();
            bytes[at / 8] ^= 1 << (at % 8);
            survives(&bytes);
        }
    }
    assert!(little_memory());
}

/// An element with numbers from nowhere, to reach every sum.
fn element() -> impl Strategy<Value = String> {
    let number = || {
        prop_oneof![
            60 => (0u32..20).prop_map(|number| number.to_string()),
            1 => (-3i64..1_000_000_007).prop_map(|number| number.to_string()),
            2 => (0u32..1000, 1u32..999_999).prop_map(|(whole, part)| format!("{whole}.{part}")),
            2 => Just("999999".to_owned()),
            1 => Just("x".to_owned()),
        ]
    };
    let letter = || prop_oneof![Just("C"), Just("F"), Just("B"), Just("H")];
    let note = (letter(), number(), number(), number(), 0u8..64).prop_map(|(step, octave, alter, duration, more)| {
        let has = |bit: u8, text: &str| if more & bit > 0 { text.to_owned() } else { String::new() };
        format!(
            "<note>{}{}<pitch><step>{step}</step><alter>{alter}</alter><octave>{}</octave></pitch>\
             <duration>{duration}</duration>{}{}{}</note>",
            has(1, "<chord/>"),
            has(2, "<grace/>"),
            if more & 4 > 0 { "5" } else { &octave },
            has(8, "<type>eighth</type><dot/>"),
            has(16, "<tie type=\"start\"/><tie type=\"stop\"/>"),
            has(32, "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"),
        )
    });
    let rest = number().prop_map(|duration| {
        format!("<note print-object=\"no\"><rest/><duration>{duration}</duration></note>")
    });
    let harmony = (letter(), number(), number(), number()).prop_map(|(root, value, alter, offset)| format!(
        "<harmony><root><root-step>{root}</root-step><root-alter>{alter}</root-alter></root><kind>dominant</kind>\
         <degree><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter><degree-type>alter</degree-type></degree>\
         <degree><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter><degree-type>alter</degree-type></degree>\
         <inversion>{value}</inversion><offset>-{offset}</offset></harmony>"
    ));
    let attributes = (number(), number(), number(), number()).prop_map(|(divisions, fifths, beats, chromatic)| format!(
        "<attributes><divisions>{divisions}</divisions><key><fifths>{fifths}</fifths></key><time><beats>{beats}</beats>\
         <beat-type>8</beat-type></time><transpose><chromatic>{chromatic}</chromatic><octave-change>-{fifths}</octave-change></transpose></attributes>"
    ));
    let moves = (number(), any::<bool>()).prop_map(|(duration, back)| {
        let name = if back { "backup" } else { "forward" };
        format!("<{name}><duration>{duration}</duration></{name}>")
    });
    let lines = (number(), any::<[bool; 4]>()).prop_map(|(number, [left, forward, ending, stop])| format!(
        "<barline location=\"{}\"><repeat direction=\"{}\" times=\"{number}\"/>{}</barline>",
        if left { "left" } else { "right" },
        if forward { "forward" } else { "backward" },
        if ending { format!("<ending number=\"{number}\" type=\"{}\"/>", if stop { "stop" } else { "start" }) } else { String::new() },
    ));
    let bar = any::<bool>().prop_map(|implicit| {
        format!(
            "</measure><measure number=\"2\" implicit=\"{}\">",
            if implicit { "yes" } else { "no" }
        )
    });
    prop_oneof![6 => note, 2 => rest, 3 => harmony, 1 => attributes, 2 => moves, 2 => lines, 3 => bar]
}

proptest! {
    #[test]
    fn flipped_bits_never_harm(which in 0usize..1000, flips in prop::collection::vec((0usize..100_000, 0u8..8), 1..6)) {
        let files = fixtures();
        let mut bytes = files[which % files.len()].clone();
        for (at, bit) in flips {
            let at = at % bytes.len();
            bytes[at] ^= 1 << bit;
        }
        survives(&bytes);
    }

    #[test]
    fn any_bytes_are_refused_or_read(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        survives(&bytes);
        survives(&[b"PK\x03\x04".as_slice(), &bytes].concat());
        survives(&[b"<score-partwise>".as_slice(), &bytes].concat());
    }

    #[test]
    fn any_measures_are_refused_or_read(elements in prop::collection::vec(element(), 1..40)) {
        let head = "<attributes><divisions>4</divisions></attributes>";
        let xml = format!(
            "<score-partwise><part id=\"P\"><measure number=\"1\">{head}{}</measure></part></score-partwise>",
            elements.concat()
        );
        survives(xml.as_bytes());
    }
}
