//! Pages as pictures, beside those that were looked at and kept.

use std::fs;
use std::path::Path;

use engrave::Paper;

use crate::{folder, scores};

/// Pictures that were looked at and kept; after a change that is meant, take
/// the new ones from `target`, look at them, and put them there.
#[test]
fn pages_look_as_they_did() {
    let lessons = [
        "lantern-stairs",
        "coal-barge-blues",
        "weather-vane",
        "quarry-answers",
    ];
    let picture = |lesson: &str, sheet: usize| {
        let (_, score) = scores(&folder().join(format!("{lesson}.toml"))).remove(sheet);
        let sheet = engrave::sheet(&score, Paper::A4);
        engrave::png(&sheet.pages[0], 60).unwrap()
    };
    let name = |lesson: &str| format!("{lesson}-page-1.png");
    for lesson in lessons {
        let now = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name(lesson));
        fs::write(now, picture(lesson, 0)).unwrap();
    }
    for lesson in lessons {
        let kept = read(&fs::read(folder().join("../pages").join(name(lesson))).unwrap());
        let far = apart(&kept, &read(&picture(lesson, 0)));
        assert!(far < 2, "{lesson} is {far} thousandths away");
        let far = apart(&kept, &read(&picture(lesson, 1)));
        assert!(far >= 2, "another key of {lesson} is only {far} away");
    }
}

/// Width, height and shades of grey.
type Picture = (u32, u32, Vec<u8>);

fn read(file: &[u8]) -> Picture {
    let mut reader = png::Decoder::new(std::io::Cursor::new(file))
        .read_info()
        .unwrap();
    let mut grey = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut grey).unwrap();
    assert_eq!(info.color_type, png::ColorType::Grayscale);
    (info.width, info.height, grey)
}

/// How far two pictures are apart, in thousandths of all black on white.
fn apart(one: &Picture, other: &Picture) -> u64 {
    if (one.0, one.1) != (other.0, other.1) {
        return 1000;
    }
    let bytes = one.2.iter().zip(&other.2);
    let sum: u64 = bytes
        .map(|(one, other)| u64::from(one.abs_diff(*other)))
        .sum();
    sum * 1000 / (one.2.len() as u64 * 255)
}
