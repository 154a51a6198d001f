//! Names beside a file for its other versions: `01-c.new.musicxml`,
//! `01-c.edited-2.musicxml`.

/// The name of a file's other version; numbers past the first are told.
pub fn beside(file: &str, word: &str, number: usize) -> String {
    let folder = file.rfind('/').map_or(0, |at| at + 1);
    let dot = file[folder..]
        .rfind('.')
        .map_or(file.len(), |at| folder + at);
    let (stem, ending) = file.split_at(dot);
    if number == 1 {
        format!("{stem}.{word}{ending}")
    } else {
        format!("{stem}.{word}-{number}{ending}")
    }
}

/// Whether a file is a new version beside a sheet.
pub fn is_new(file: &str) -> bool {
    let name = file.rsplit('/').next().unwrap_or(file);
    let mut parts = name.rsplit('.').skip(1);
    parts
        .next()
        .is_some_and(|word| word == "new" || word.starts_with("new-"))
        && parts.next().is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn versions_keep_folder_and_ending() {
        for (file, number, expected) in [
            ("a.b/01-c.musicxml", 1, "a.b/01-c.new.musicxml"),
            ("a.b/01-c.musicxml", 2, "a.b/01-c.new-2.musicxml"),
            ("a.b/01-c", 1, "a.b/01-c.new"),
            ("01-c.mxl", 1, "01-c.new.mxl"),
        ] {
            let name = beside(file, "new", number);
            assert_eq!(name, expected);
            assert_eq!(is_new(&name), name.contains("xml") || name.ends_with("mxl"));
            assert!(!is_new(file), "{file}");
        }
    }
}
