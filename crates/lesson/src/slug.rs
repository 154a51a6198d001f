//! Names made fit for files and folders.

/// A name in small letters and digits of any script, everything else between
/// them one hyphen; empty where the name has none.
pub fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() {
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
            ("!!!", ""),
            ("", ""),
        ];
        for (name, expected) in rows {
            assert_eq!(slug(name), expected, "{name}");
        }
    }
}
