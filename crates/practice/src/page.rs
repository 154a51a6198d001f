//! A player's sheets as one HTML file: read and printed without a script,
//! heard with one. It asks nothing of any network.

use std::fmt::Write;

use engrave::{Page, SETTING, escape};

/// A sheet of the page.
#[derive(Debug, Clone)]
pub struct PracticeSheet {
    /// Its name among the player's: `03-b-flat`.
    pub stem: String,
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
    /// The lesson's id: ticks are kept under it.
    pub lesson: String,
    /// The lesson's title.
    pub title: String,
    /// The player's folder: ticks are kept under it.
    pub player: String,
    /// Who plays.
    pub name: String,
    /// The tempos to practise, slowest first; none where none is said.
    pub tempos: Vec<u16>,
    /// The A above middle C, in hertz.
    pub tuning: u16,
    /// The sheets in order.
    pub sheets: Vec<PracticeSheet>,
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
    grid(of, html)?;
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

/// Keys down, tempos across, a box to tick each.
fn grid(of: &PracticePage, html: &mut String) -> std::fmt::Result {
    let tempos: Vec<String> = if of.tempos.is_empty() {
        vec!["played".to_owned()]
    } else {
        of.tempos.iter().map(u16::to_string).collect()
    };
    html.push_str(
        "<nav aria-label=\"Keys\"><table>\n<thead><tr><th scope=\"col\">Key</th><th scope=\"col\">sounds</th>",
    );
    for tempo in &tempos {
        write!(html, "<th scope=\"col\">{tempo}</th>")?;
    }
    html.push_str("</tr></thead>\n<tbody>\n");
    for sheet in &of.sheets {
        let (stem, written) = (escape(&sheet.stem), escape(&sheet.written));
        write!(
            html,
            "<tr><th scope=\"row\"><a href=\"#{stem}\">{written}</a></th><td>{}</td>",
            escape(&sheet.concert)
        )?;
        for tempo in &tempos {
            write!(
                html,
                "<td><input type=\"checkbox\" aria-label=\"{written}, {tempo}\" data-tick=\"{stem} {tempo}\"></td>"
            )?;
        }
        html.push_str("</tr>\n");
    }
    html.push_str("</tbody></table><p id=\"kept\"></p></nav>\n");
    Ok(())
}

fn section(of: &PracticePage, sheet: &PracticeSheet, html: &mut String) -> std::fmt::Result {
    let stem = escape(&sheet.stem);
    let key = if sheet.written == sheet.concert {
        sheet.written.clone()
    } else {
        format!("written {}, sounds {}", sheet.written, sheet.concert)
    };
    let key = escape(&key);
    writeln!(
        html,
        "<section id=\"{stem}\" data-key=\"{key}\"><h2>{key}</h2>"
    )?;
    for (at, page) in sheet.pages.iter().enumerate() {
        let (width, height) = (page.paper.width(), page.paper.height());
        let name = escape(&of.title);
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
