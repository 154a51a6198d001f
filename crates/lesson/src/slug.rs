//! Names made fit for files and folders.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// A name in small letters and digits of any script, everything else between
/// them one hyphen; empty where the name has none. Letters and their marks are
/// composed (Unicode's form C), so that a name is the same however it was
/// typed.
pub fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.nfc().flat_map(char::to_lowercase).nfc() {
        // A mark that has no composed form stays with its letter.
        let marks = is_combining_mark(letter) && slug.ends_with(char::is_alphanumeric);
        if letter.is_alphanumeric() || marks {
            slug.push(letter);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    slug.truncate(slug.trim_end_matches('-').len());
    slug
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn letters_and_digits_stay() {
        let rows = [
            ("Stand 3", "stand-3"),
            ("  Reed desk / left ", "reed-desk-left"),
            ("Łąka №2", "łąka-2"),
            ("../up", "up"),
            ("Größe, e\u{301}tude", "größe-étude"),
            ("étude", "étude"),
            ("İzmir", "i\u{307}zmir"),
            ("हिन्दी", "हिन्दी"),
            ("\u{202e}left\u{1b}[2J", "left-2j"),
            ("!!!", ""),
            ("", ""),
        ];
        for (name, expected) in rows {
            assert_eq!(slug(name), expected, "{name}");
        }
    }
}
