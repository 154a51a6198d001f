//! Aligned columns of text.

use std::io::{self, Write};

/// Prints rows under a heading, each column as wide as its widest cell; the
/// last column is as long as it likes. Cells are padded by characters.
pub fn print<const N: usize>(
    out: &mut impl Write,
    indent: &str,
    heading: [&str; N],
    rows: &[[String; N]],
) -> io::Result<()> {
    let heading = heading.map(str::to_owned);
    let all = || std::iter::once(&heading).chain(rows);
    let width = |column: usize| {
        all()
            .map(|row| row[column].chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: [usize; N] = std::array::from_fn(width);
    for row in all() {
        let mut line = indent.to_owned();
        for (cell, width) in row.iter().zip(widths) {
            line.push_str(&format!("{cell:width$}  "));
        }
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_and_lines_end_clean() {
        let mut out = Vec::new();
        let rows = [
            ["a".to_owned(), "♭♭♭".to_owned(), String::new()],
            ["bb".to_owned(), "x".to_owned(), "y".to_owned()],
        ];
        print(&mut out, "  ", ["id", "n", "more"], &rows).unwrap();
        assert_eq!(
            String::from_utf8(out).unwrap(),
            "  id  n    more\n  a   ♭♭♭\n  bb  x    y\n"
        );
    }
}
