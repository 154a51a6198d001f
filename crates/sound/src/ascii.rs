//! Names in ASCII, for readers that know no other letters.

/// A text in ASCII: accidentals as `b` and `#`, letters without their marks,
/// dashes and quotes plain; what has no likeness is left out.
pub(crate) fn ascii(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match likeness(letter) {
            Some(likeness) => plain.push_str(likeness),
            None if letter.is_ascii() && !letter.is_ascii_control() => plain.push(letter),
            None => {}
        }
    }
    plain
}

fn likeness(letter: char) -> Option<&'static str> {
    Some(match letter {
        '♭' => "b",
        '♯' => "#",
        '♮' | '’' | '‘' | 'ʼ' => "'",
        '–' | '—' | '−' | '·' => "-",
        '“' | '”' | '„' | '«' | '»' => "\"",
        '…' => "...",
        'ä' | 'á' | 'à' | 'â' | 'ã' | 'å' | 'ā' | 'ą' => "a",
        'Ä' | 'Á' | 'À' | 'Â' | 'Ã' | 'Å' => "A",
        'æ' => "ae",
        'Æ' => "AE",
        'ç' | 'č' | 'ć' => "c",
        'Ç' | 'Č' => "C",
        'é' | 'è' | 'ê' | 'ë' | 'ě' | 'ę' | 'ē' => "e",
        'É' | 'È' | 'Ê' | 'Ë' => "E",
        'í' | 'ì' | 'î' | 'ï' | 'ī' => "i",
        'Í' | 'Ì' | 'Î' | 'Ï' => "I",
        'ł' => "l",
        'Ł' => "L",
        'ñ' | 'ń' | 'ň' => "n",
        'Ñ' => "N",
        'ö' | 'ó' | 'ò' | 'ô' | 'õ' | 'ø' | 'ō' | 'ő' => "o",
        'Ö' | 'Ó' | 'Ò' | 'Ô' | 'Õ' | 'Ø' => "O",
        'œ' => "oe",
        'ř' => "r",
        'š' | 'ś' | 'ş' => "s",
        'Š' => "S",
        'ß' => "ss",
        'ü' | 'ú' | 'ù' | 'û' | 'ů' | 'ū' | 'ű' => "u",
        'Ü' | 'Ú' | 'Ù' | 'Û' => "U",
        'ý' | 'ÿ' => "y",
        'ž' | 'ż' | 'ź' => "z",
        'Ž' => "Z",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_ascii() {
        let check = |text: &str, expected: &str| assert_eq!(ascii(text), expected);
        check("Alto Saxophone in E♭", "Alto Saxophone in Eb");
        check("Flügelhorn – Übung 3", "Flugelhorn - Ubung 3");
        check("Señal \u{1F3B7}\n", "Senal ");
    }
}
