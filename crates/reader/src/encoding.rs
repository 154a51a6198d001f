//! From bytes to text: UTF-8, UTF-16, Latin-1, with or without a mark or a
//! declaration (XML 1.0, appendix F).

use std::borrow::Cow;

use crate::{Place, ReadError, Warning};

/// The text of a document, and what had to be guessed for it.
pub(crate) fn text(bytes: &[u8]) -> Result<(Cow<'_, str>, Option<Warning>), ReadError> {
    match bytes {
        [0xEF, 0xBB, 0xBF, rest @ ..] => eight_bits(rest),
        [0xFF, 0xFE, rest @ ..] => sixteen_bits(rest, u16::from_le_bytes),
        [0xFE, 0xFF, rest @ ..] => sixteen_bits(rest, u16::from_be_bytes),
        [b'<', 0, ..] => sixteen_bits(bytes, u16::from_le_bytes),
        [0, b'<', ..] => sixteen_bits(bytes, u16::from_be_bytes),
        _ => eight_bits(bytes),
    }
}

fn sixteen_bits(
    bytes: &[u8],
    unit: fn([u8; 2]) -> u16,
) -> Result<(Cow<'_, str>, Option<Warning>), ReadError> {
    let units = bytes.chunks_exact(2).map(|pair| unit([pair[0], pair[1]]));
    let text: Result<String, _> = char::decode_utf16(units).collect();
    match text {
        Ok(text) if bytes.len().is_multiple_of(2) => Ok((text.into(), None)),
        _ => Err(ReadError::whole(
            "the file begins as UTF-16 text but isn't UTF-16 all through: it is damaged",
        )),
    }
}

fn eight_bits(bytes: &[u8]) -> Result<(Cow<'_, str>, Option<Warning>), ReadError> {
    let declared = declared(bytes).map(|name| name.to_ascii_lowercase());
    let latin = matches!(
        declared.as_deref(),
        Some("iso-8859-1" | "iso_8859-1" | "latin1" | "latin-1" | "l1" | "windows-1252" | "cp1252")
    );
    if latin {
        return Ok((latin_1(bytes).into(), None));
    }
    let unicode = matches!(
        declared.as_deref(),
        None | Some("utf-8" | "utf8" | "us-ascii" | "ascii")
    );
    let told = |message: String| {
        Some(Warning {
            place: Place::default(),
            message,
        })
    };
    match (std::str::from_utf8(bytes), &declared) {
        (Ok(text), _) if unicode => Ok((text.into(), None)),
        (Ok(text), Some(name)) => {
            let message = format!(
                "the file says that it is {} text, but it reads as UTF-8",
                crate::shown::shown(name)
            );
            Ok((text.into(), told(message)))
        }
        (Err(_), Some(name)) if !unicode => Err(ReadError::whole(format!(
            "the file is {} text, which isn't read here: save it as UTF-8",
            crate::shown::shown(name)
        ))),
        (Ok(text), None) => Ok((text.into(), None)),
        (Err(_), _) => {
            let message =
                "the file isn't the UTF-8 text it should be: it was read as Latin-1".to_owned();
            Ok((latin_1(bytes).into(), told(message)))
        }
    }
}

/// Latin-1 as the world writes it: the control places hold Windows' signs.
fn latin_1(bytes: &[u8]) -> String {
    const SIGNS: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8D}', 'Ž',
        '\u{8F}', '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9D}',
        'ž', 'Ÿ',
    ];
    let sign = |byte: &u8| match byte {
        0x80..=0x9F => SIGNS[usize::from(byte - 0x80)],
        _ => char::from(*byte),
    };
    bytes.iter().map(sign).collect()
}

/// The encoding that the declaration names, if there is one.
fn declared(bytes: &[u8]) -> Option<&str> {
    let start = bytes.iter().position(|byte| !byte.is_ascii_whitespace())?;
    let head = bytes.get(start..)?.get(..200).unwrap_or(&bytes[start..]);
    let end = head.windows(2).position(|pair| pair == b"?>")?;
    let declaration = std::str::from_utf8(head.get(..end)?).ok()?;
    let after = declaration.strip_prefix("<?xml")?.split_once("encoding")?.1;
    let value = after.trim_start().strip_prefix('=')?.trim_start();
    let quote = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    value[1..].split_once(quote).map(|(name, _)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(bytes: &[u8], expected: &str, warned: bool) {
        let (found, warning) = text(bytes).unwrap();
        assert_eq!((found.as_ref(), warning.is_some()), (expected, warned));
    }

    #[test]
    fn encodings() {
        check("<a>♭</a>".as_bytes(), "<a>♭</a>", false);
        check("\u{FEFF}<a>♭</a>".as_bytes(), "<a>♭</a>", false);
        let wide = |text: &str, unit: fn(u16) -> [u8; 2]| -> Vec<u8> {
            text.encode_utf16().flat_map(unit).collect()
        };
        for text in ["\u{FEFF}<a>♭𝄪</a>", "<a>♭𝄪</a>"] {
            check(&wide(text, u16::to_le_bytes), "<a>♭𝄪</a>", false);
            check(&wide(text, u16::to_be_bytes), "<a>♭𝄪</a>", false);
        }
        let latin = b"<?xml version='1.0' encoding='ISO-8859-1'?><a>\xE9\x96</a>";
        check(
            latin,
            "<?xml version='1.0' encoding='ISO-8859-1'?><a>é–</a>",
            false,
        );
        check(b"<a>\xE9</a>", "<a>é</a>", true);
        let koi = "<?xml version=\"1.0\" encoding = \"KOI8-R\" ?><a/>";
        check(koi.as_bytes(), koi, true);
    }

    #[test]
    fn what_is_no_text_is_refused() {
        let check = |bytes: &[u8]| assert!(text(bytes).is_err());
        check(b"\xFF\xFE<\0a");
        check(b"\xFF\xFE\x00\xD8<\0");
        check(b"<?xml version='1.0' encoding='KOI8-R'?><a>\xC1</a>");
    }
}
