//! Notated files made or broken to do harm, through the program itself: one
//! clear message, exit code 2, nothing written, in little memory.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::support::{Ran, fresh, ran, root, run};

/// Kilobytes that the program may take in all, its own code included.
const MOST_KILOBYTES: u32 = 192 * 1024;

/// Runs the program with no more than so much memory; on systems that limit
/// none, with what there is.
fn bounded(arguments: &[&str]) -> Ran {
    let limit = if cfg!(target_os = "linux") {
        format!("ulimit -v {MOST_KILOBYTES} || exit 99")
    } else {
        ":".to_owned()
    };
    let script = format!("{limit}; exec \"$@\"");
    let mut command = Command::new("sh");
    command
        .args(["-c", &script, "sh", env!("CARGO_BIN_EXE_twelvefold")])
        .args(arguments)
        .current_dir(root());
    ran(command.output().unwrap())
}

/// Lifted, and as a lesson's lead sheet: the same reason, once.
fn check(name: &str, bytes: &[u8], expected: &str) {
    let folder = fresh(&format!("hostile-{name}"));
    let file = folder.join("sheet.musicxml");
    fs::write(&file, bytes).unwrap();
    let out = folder.join("lifted.toml");
    let lifted = bounded(&["lift", text(&file), "--out", text(&out)]);
    let lesson = folder.join("paper.toml");
    fs::write(
        &lesson,
        "title = \"P\"\n[changes]\nlead_sheet = \"sheet.musicxml\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"changes\"\n",
    )
    .unwrap();
    let written = folder.join("out");
    let written = bounded(&["write", text(&lesson), "--out", text(&written)]);
    for ran in [&lifted, &written] {
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{name}: {}", ran.err);
        assert_eq!(ran.err.matches(expected).count(), 1, "{name}: {}", ran.err);
        assert!(ran.err.contains("sheet.musicxml"), "{name}: {}", ran.err);
        assert!(
            ran.err.len() < 1_000 && !ran.err.contains("panicked"),
            "{name}: {}",
            ran.err
        );
    }
    // Where the lesson names it.
    assert!(written.err.contains("paper.toml:3:14"), "{}", written.err);
    assert!(!out.exists() && !folder.join("out").exists(), "{name}");
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// Bits as deflate packs them, the lowest of a byte first (RFC 1951, 3.1.1).
#[derive(Default)]
struct Bits {
    bytes: Vec<u8>,
    open: u32,
    held: u32,
}

impl Bits {
    /// Numbers begin with their lowest bit, codes are given turned round.
    fn push(&mut self, value: u32, bits: u32) {
        self.held |= value << self.open;
        self.open += bits;
        while self.open >= 8 {
            self.bytes.push(self.held as u8);
            self.held >>= 8;
            self.open -= 8;
        }
    }
}

/// An archive of one file, so many zeros long.
fn zeros(length: u32) -> Vec<u8> {
    // One block of fixed codes (RFC 1951, 3.2.6): a zero, then as often as it
    // takes 258 bytes from 1 back, then the end of the block.
    let mut bits = Bits::default();
    bits.push(0b011, 3);
    bits.push(0b0000_1100, 8);
    for _ in 0..length / 258 {
        bits.push(0b1010_0011, 8);
        bits.push(0, 5);
    }
    bits.push(0, 7 + 7);
    let packed = bits.bytes;
    let name = b"sheet.xml";
    let short = |number: u16| number.to_le_bytes();
    let long = |number: usize| u32::try_from(number).unwrap().to_le_bytes();
    // APPNOTE.TXT 4.3.7, 4.3.12 and 4.3.16, from memory.
    let about = [
        &short(20)[..],
        &short(0),
        &short(8),
        &[0; 8],
        &long(packed.len()),
        &length.to_le_bytes(),
        &short(9),
        &short(0),
    ]
    .concat();
    let local = [b"PK\x03\x04", &about[..], name, &packed].concat();
    let central = [b"PK\x01\x02\x14\x00", &about[..], &[0; 14], name].concat();
    let end = [
        &b"PK\x05\x06\0\0\0\0\x01\0\x01\0"[..],
        &long(central.len()),
        &long(local.len()),
        &short(0),
    ]
    .concat();
    [local, central, end].concat()
}

#[test]
fn an_archive_of_a_gigabyte() {
    let archive = zeros(1 << 30);
    assert!(archive.len() < 8 << 20);
    check(
        "gigabyte",
        &archive,
        "“sheet.xml” unpacks to more than 33554432 bytes",
    );
    // What the same hand packs does unpack, but for its checksum: it is the
    // size that is refused above.
    check(
        "few-zeros",
        &zeros(258 * 4 + 1),
        "the archive is damaged at “sheet.xml”: Invalid checksum",
    );
}

#[test]
fn entities_inside_entities() {
    let mut laughs = "<!DOCTYPE score-partwise [<!ENTITY a \"ha\">".to_owned();
    for (name, of) in ('b'..='k').zip('a'..='j') {
        let ten = format!("&{of};").repeat(10);
        laughs += &format!("<!ENTITY {name} \"{ten}\">");
    }
    laughs += "]><score-partwise><movement-title>&k;</movement-title></score-partwise>";
    check(
        "entities",
        laughs.as_bytes(),
        "line 1: “k” is an entity of the file's own, which is never read",
    );
}

#[test]
fn elements_without_end() {
    let deep = "<score-partwise>".to_owned() + &"<a>".repeat(200_000);
    check(
        "deep",
        deep.as_bytes(),
        "line 1: elements stand more than 64 deep inside each other",
    );
    let wide =
        "<score-partwise><part>".to_owned() + &"<measure><note/></measure>".repeat(1_200_000);
    check(
        "wide",
        wide.as_bytes(),
        "line 1: the score has more than 100000 measures",
    );
    // Something that never ends is not even opened.
    if Path::new("/dev/zero").exists() {
        for command in ["lift", "write", "check"] {
            let endless = bounded(&[command, "/dev/zero"]);
            assert_eq!(endless.code, 2, "{}", endless.err);
            assert!(
                endless.err.contains("is a pipe or a device, not a file"),
                "{}",
                endless.err
            );
        }
    }
}

/// Cut short or with a bit turned, each of the notated files is read or
/// refused, and nothing in between.
#[test]
fn broken_files() {
    let mut files: Vec<_> = fs::read_dir(root().join("fixtures/notation"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            path.extension()
                .is_some_and(|ending| ending == "musicxml" || ending == "mxl")
        })
        .collect();
    files.sort();
    let folder = fresh("hostile-broken");
    for (at, file) in files.iter().enumerate() {
        let bytes = fs::read(file).unwrap();
        let half = &bytes[..bytes.len() / 2];
        let mut turned = bytes.clone();
        let place = (at * 7919 + 13) % bytes.len();
        turned[place] ^= 1 << (at % 8);
        for (broken, cut) in [(half, true), (&turned[..], false)] {
            let path = folder.join("broken.musicxml");
            fs::write(&path, broken).unwrap();
            let ran = run(["lift", text(&path)]);
            let name = format!("{} {place}: {}", file.display(), ran.err);
            assert!(ran.code == 2 || ran.code == 0 && !cut, "{name}");
            assert!(ran.code == 0 || ran.out.is_empty(), "{name}");
            assert!(!ran.err.contains("panicked"), "{name}");
        }
    }
}
