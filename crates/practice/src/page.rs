//! A player's sheets as one HTML file: read and printed without a script,
//! heard with one. It asks nothing of any network.

use std::fmt::Write;

use engrave::{Page, SETTING, escape};

/// A sheet of the page.
#[derive(Debug, Clone)]
pub struct PracticeSheet {
    /// Its name, no other's on the page: `03-b-flat`, in a course
    /// `lantern-stairs-03-b-flat`.
    pub stem: String,
    /// The title of its lesson; empty where the page is one lesson's.
    pub lesson: String,
    /// Its lesson's tempos to practise, slowest first; none where none is
    /// said.
    pub tempos: Vec<u16>,
    /// The key as the player reads it, and as it sounds: `B♭`, `D♭`; both
    /// `through the keys` on such a sheet.
    pub written: String,
    /// As it sounds.
    pub concert: String,
    /// Its pages.
    pub pages: Vec<Page>,
    /// What it sounds like, from [`crate::events`]; none where it can't be
    /// played.
    pub events: Option<String>,
}

/// What a page is made of.
#[derive(Debug, Clone)]
pub struct PracticePage {
    /// The lesson's or the course's id: ticks are kept under it.
    pub lesson: String,
    /// The lesson's or the course's title.
    pub title: String,
    /// The player's folder: ticks are kept under it.
    pub player: String,
    /// Who plays.
    pub name: String,
    /// The A above middle C, in hertz.
    pub tuning: u16,
    /// The sheets in order.
    pub sheets: Vec<PracticeSheet>,
    /// The weeks of a course in order; none for a lesson.
    pub weeks: Vec<PracticeWeek>,
}

/// A week of a course.
#[derive(Debug, Clone)]
pub struct PracticeWeek {
    /// `Week 3 · Over the bridge`.
    pub title: String,
    /// Paragraphs under it.
    pub text: Vec<String>,
    /// Its sheets, by their places on the page; a sheet may be in several
    /// weeks.
    pub sheets: Vec<usize>,
}

const STYLE: &str = include_str!("../page/practice.css");
const SCRIPT: &str = include_str!("../page/practice.js");

/// The prefix of every outline's id: all pages share them.
const OUTLINE: &str = "o";

/// The file.
pub fn page(of: &PracticePage) -> Vec<u8> {
    let mut html = String::with_capacity(512 * 1024);
    // Writing to a string can't fail.
    let _ = write(of, &mut html);
    html.into_bytes()
}

fn write(of: &PracticePage, html: &mut String) -> std::fmt::Result {
    let (title, name) = (escape(&of.title), escape(&of.name));
    write!(
        html,
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
         script-src 'unsafe-inline'; style-src 'unsafe-inline'\">\n\
         <title>{title}, {name}</title>\n<style>\n{STYLE}</style>\n</head>\n\
         <body data-lesson=\"{}\" data-player=\"{}\" data-tuning=\"{}\">\n\
         <header><h1>{title}</h1><p>{name}</p>\n",
        escape(&of.lesson),
        escape(&of.player),
        of.tuning,
    )?;
    html.push_str(
        "<p class=\"care\">Play no louder than you would speak, above all in headphones. Rest \
         before anything hurts; if it goes on hurting, or your ears ring, ask your teacher or a \
         clinician.</p></header>\n<section id=\"player\" aria-label=\"Player\" hidden></section>\n",
    );
    if of.weeks.is_empty() {
        html.push_str("<nav aria-label=\"Keys\">");
        grid(&of.sheets.iter().collect::<Vec<_>>(), "", html)?;
    } else {
        html.push_str("<nav aria-label=\"Weeks\">");
        for (number, week) in (1..).zip(&of.weeks) {
            weeks_work(of, week, number, html)?;
        }
    }
    html.push_str("<p id=\"kept\"></p></nav>\n");
    let pages = of.sheets.iter().flat_map(|sheet| &sheet.pages);
    write!(
        html,
        "<svg class=\"outlines\" width=\"0\" height=\"0\" aria-hidden=\"true\"><defs>\n{}</defs></svg>\n<main>\n",
        engrave::outlines(pages, OUTLINE)
    )?;
    for sheet in &of.sheets {
        section(of, sheet, html)?;
    }
    html.push_str("</main>\n");
    for sheet in &of.sheets {
        if let Some(events) = &sheet.events {
            // Numbers and bars' names: nothing in it ends a script.
            writeln!(
                html,
                "<script type=\"application/json\" data-events=\"{}\">{events}</script>",
                escape(&sheet.stem)
            )?;
        }
    }
    let player = crate::PLAYER.replace("\nexport ", "\n");
    write!(
        html,
        "<script type=\"module\">\n{player}\n{SCRIPT}</script>\n</body>\n</html>\n"
    )
}

/// A week: what is said of it, then its lessons, each with its keys. It stands
/// open, for whoever reads without a script.
fn weeks_work(
    of: &PracticePage,
    week: &PracticeWeek,
    number: usize,
    html: &mut String,
) -> std::fmt::Result {
    writeln!(
        html,
        "<details class=\"week\" data-week=\"{number}\" open><summary><h2>{}</h2></summary>",
        escape(&week.title)
    )?;
    for paragraph in &week.text {
        writeln!(html, "<p>{}</p>", escape(paragraph))?;
    }
    let sheets: Vec<&PracticeSheet> = week
        .sheets
        .iter()
        .filter_map(|place| of.sheets.get(*place))
        .collect();
    for lesson in sheets.chunk_by(|one, other| one.lesson == other.lesson) {
        if let Some(first) = lesson.first().filter(|first| !first.lesson.is_empty()) {
            writeln!(html, "<h3>{}</h3>", escape(&first.lesson))?;
        }
        grid(lesson, &format!("week {number} "), html)?;
    }
    html.push_str("</details>\n");
    Ok(())
}

/// Keys down, tempos across, a box to tick each; ticks are kept under a name
/// that begins as is said.
fn grid(sheets: &[&PracticeSheet], under: &str, html: &mut String) -> std::fmt::Result {
    let tempos = sheets.first().map(|sheet| sheet.tempos.as_slice());
    let tempos: Vec<String> = match tempos.unwrap_or_default() {
        [] => vec!["played".to_owned()],
        tempos => tempos.iter().map(u16::to_string).collect(),
    };
    html.push_str(
        "<div class=\"grid\"><table>\n<thead><tr><th scope=\"col\">Key</th><th scope=\"col\">sounds</th>",
    );
    for tempo in &tempos {
        write!(html, "<th scope=\"col\">{tempo}</th>")?;
    }
    html.push_str("</tr></thead>\n<tbody>\n");
    for sheet in sheets {
        let (stem, written) = (escape(&sheet.stem), escape(&sheet.written));
        write!(
            html,
            "<tr><th scope=\"row\"><a href=\"#{stem}\">{written}</a></th><td>{}</td>",
            escape(&sheet.concert)
        )?;
        for tempo in &tempos {
            write!(
                html,
                "<td><input type=\"checkbox\" aria-label=\"{}{written}, {tempo}\" data-tick=\"{under}{stem} {tempo}\"></td>",
                named(sheet),
            )?;
        }
        html.push_str("</tr>\n");
    }
    html.push_str("</tbody></table></div>\n");
    Ok(())
}

/// The lesson of a sheet before its key, where the page has several.
fn named(sheet: &PracticeSheet) -> String {
    if sheet.lesson.is_empty() {
        String::new()
    } else {
        format!("{}, ", escape(&sheet.lesson))
    }
}

fn section(of: &PracticePage, sheet: &PracticeSheet, html: &mut String) -> std::fmt::Result {
    let stem = escape(&sheet.stem);
    let key = if sheet.written == sheet.concert {
        sheet.written.clone()
    } else {
        format!("written {}, sounds {}", sheet.written, sheet.concert)
    };
    let key = escape(&key);
    let lesson = escape(&sheet.lesson);
    let heading = named(sheet);
    writeln!(
        html,
        "<section id=\"{stem}\" data-key=\"{heading}{key}\" data-lesson=\"{lesson}\"><h2>{heading}{key}</h2>"
    )?;
    for (at, page) in sheet.pages.iter().enumerate() {
        let (width, height) = (page.paper.width(), page.paper.height());
        let name = match sheet.lesson.as_str() {
            "" => escape(&of.title),
            lesson => escape(lesson),
        };
        let of_all = if sheet.pages.len() > 1 {
            format!(", page {} of {}", at + 1, sheet.pages.len())
        } else {
            String::new()
        };
        writeln!(
            html,
            "<svg class=\"sheet\" {SETTING} role=\"img\" aria-label=\"{name}, {key}{of_all}\" viewBox=\"0 0 {width} {height}\">\n{}</svg>",
            page.marks(OUTLINE)
        )?;
    }
    html.push_str("</section>\n");
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(lesson: &str, stem: &str, tempos: &[u16]) -> PracticeSheet {
        PracticeSheet {
            stem: stem.to_owned(),
            lesson: lesson.to_owned(),
            tempos: tempos.to_vec(),
            written: "A".to_owned(),
            concert: "C".to_owned(),
            pages: vec![Page::new(engrave::Paper::A4, "x")],
            events: None,
        }
    }

    fn made(sheets: Vec<PracticeSheet>, weeks: Vec<PracticeWeek>) -> String {
        let page = page(&PracticePage {
            lesson: "term".to_owned(),
            title: "A & B".to_owned(),
            player: "flute".to_owned(),
            name: "Flute".to_owned(),
            tuning: 440,
            sheets,
            weeks,
        });
        String::from_utf8(page).unwrap()
    }

    /// Each sheet stands once, however many weeks it is in, and each week has
    /// its own ticks of it.
    #[test]
    fn weeks_share_sheets_and_keep_their_own_ticks() {
        let week = |title: &str, sheets: &[usize]| PracticeWeek {
            title: title.to_owned(),
            text: vec!["Slowly <first>.".to_owned()],
            sheets: sheets.to_vec(),
        };
        let html = made(
            vec![
                sheet("Stairs", "stairs-01-a", &[72, 80]),
                sheet("Locks & Keys", "locks-01-a", &[]),
            ],
            vec![week("Week 1 · Up", &[0]), week("Week 2", &[0, 1, 7])],
        );
        assert_eq!(html.matches("<section id=\"stairs-01-a\"").count(), 1);
        assert_eq!(html.matches("<details class=\"week\"").count(), 2);
        assert_eq!(html.matches("href=\"#stairs-01-a\"").count(), 2);
        for tick in [
            "week 1 stairs-01-a 72",
            "week 2 stairs-01-a 80",
            "week 2 locks-01-a played",
        ] {
            assert_eq!(
                html.matches(&format!("data-tick=\"{tick}\"")).count(),
                1,
                "{tick}"
            );
        }
        assert!(html.contains("<h3>Locks &amp; Keys</h3>"));
        assert!(html.contains("data-key=\"Locks &amp; Keys, written A, sounds C\""));
        assert!(html.contains("<p>Slowly &lt;first&gt;.</p>"));
    }

    #[test]
    fn a_lesson_has_no_weeks() {
        let html = made(vec![sheet("", "01-a", &[72])], Vec::new());
        assert!(html.contains("<nav aria-label=\"Keys\">") && !html.contains("<details"));
        assert!(html.contains("data-tick=\"01-a 72\"") && html.contains("aria-label=\"A, 72\""));
    }
}
