//! A packet's first page: whose it is, the teacher's words, a box for each key
//! and tempo, a row to sign.

use crate::flow::{Flow, MARGIN};
use crate::mark::{Shape, Tag};
use crate::place::Micrometres;
use crate::{Anchor, Line, Link, Packet, Page, Style, Task, shorten};

const SMALL: Micrometres = 3_500;
const TEXT: Micrometres = 4_000;
const NAME: Micrometres = 4_600;
/// A box to tick, and rows and columns of them.
const BOX: Micrometres = 3_400;
const ROW: Micrometres = 7_000;
const COLUMN: Micrometres = 20_000;
/// From a key's left edge to its first tempo.
const TEMPOS: Micrometres = 30_000;
const TEMPO: Micrometres = 14_000;
/// What stands at the page's end takes so much.
const SIGNED: Micrometres = 24_000;

/// The page, or as many as it takes, and links to the sheets; `before` is how
/// many pages it is known to take.
pub(crate) fn opening(packet: &Packet, before: usize) -> (Vec<Page>, Vec<Link>) {
    let mut flow = Flow::new(packet.paper, &packet.title);
    head(&mut flow, packet);
    for paragraph in &packet.text {
        flow.text(paragraph, Style::Roman, TEXT);
        flow.end(Tag::Paragraph);
        flow.down(TEXT / 2);
    }
    flow.text(HOW, Style::Italic, SMALL);
    flow.end(Tag::Paragraph);
    let mut links = Vec::new();
    let mut page = before;
    let mut again = false;
    for task in packet.tasks.iter().filter(|task| !task.keys.is_empty()) {
        if task.again && !again {
            again = true;
            flow.keep(3 * ROW);
            flow.down(ROW / 2);
            flow.text(AGAIN, Style::BoldItalic, NAME);
            flow.end(Tag::Heading(AGAIN.to_owned()));
        }
        page = self::task(&mut flow, task, page, &mut links);
    }
    sign(&mut flow, packet);
    (flow.finish(), links)
}

/// The course and who plays, over the week's title.
fn head(flow: &mut Flow, packet: &Packet) {
    let half = flow.width() / 2 - 4_000;
    let right = MARGIN + flow.width();
    let course = shorten(&packet.course, Style::Italic, TEXT, half);
    let instrument = shorten(&packet.instrument, Style::Bold, TEXT, half);
    let player = shorten(&packet.player, Style::Roman, TEXT, half);
    let y = flow.y;
    flow.line(Line::new().italic(&course).size(TEXT).at(MARGIN, y));
    for (line, y) in [
        (Line::new().bold(&instrument), y),
        (Line::new().roman(&player), y + TEXT * 13 / 10),
    ] {
        flow.line(line.size(TEXT).at(right, y).anchor(Anchor::End));
    }
    flow.end(Tag::Paragraph);
    flow.down(TEXT);
    let long = crate::width(&packet.title, Style::Bold, TITLE) > flow.width();
    let size = if long { LONG_TITLE } else { TITLE };
    flow.text(&packet.title, Style::Bold, size);
    flow.end(Tag::Title(packet.title.clone()));
    flow.down(1_500);
    rule(flow, MARGIN, right, 300);
    flow.end(Tag::Artifact);
    flow.down(3_500);
}

/// A lesson's title and its keys, each with its page and its boxes; gives the
/// page after its last.
fn task(flow: &mut Flow, task: &Task, mut page: usize, links: &mut Vec<Link>) -> usize {
    flow.keep(NAME * 2 + ROW);
    flow.down(2_500);
    flow.text(&task.name, Style::Bold, NAME);
    flow.end(Tag::Heading(task.name.clone()));
    let several = task.tempos.len() > 1;
    let columns = match several {
        true => 1,
        false => usize::try_from(flow.width() / COLUMN).unwrap_or(1).max(1),
    };
    for (place, key) in task.keys.iter().enumerate() {
        let column = (place % columns) as Micrometres;
        if column == 0 {
            flow.keep(ROW);
            flow.down(ROW);
        }
        let (x, y) = (MARGIN + column * COLUMN, flow.y - 1_500);
        let mut name = x;
        if !several {
            flow.tick(x, y, BOX);
            name += BOX + 1_300;
        }
        let line = Line::new().bold(&key.short).size(TEXT).at(name, y);
        let after = name + (line.width() + 1_300).max(6_500);
        flow.line(line);
        let number = Line::new().italic(&(page + 1).to_string()).size(SMALL);
        flow.line(number.at(after, y));
        links.push(Link {
            on: flow.page(),
            area: [x, y - TEXT, COLUMN - 1_500, TEXT + 1_000],
            to: page,
            title: format!("{}, {}", task.name, key.name),
        });
        page += key.pages.len();
        if several {
            tempos(flow, &task.tempos);
        }
    }
    flow.end(Tag::Paragraph);
    flow.down(1_500);
    page
}

/// A box before each tempo, in as many rows as it takes.
fn tempos(flow: &mut Flow, tempos: &[u16]) {
    let room = flow.width() - TEMPOS;
    let columns = usize::try_from(room / TEMPO).unwrap_or(1).max(1);
    for (place, tempo) in tempos.iter().enumerate() {
        let column = (place % columns) as Micrometres;
        if place > 0 && column == 0 {
            flow.keep(ROW);
            flow.down(ROW);
        }
        let (x, y) = (MARGIN + TEMPOS + column * TEMPO, flow.y - 1_500);
        flow.tick(x, y, BOX);
        let tempo = Line::new().roman(&tempo.to_string()).size(SMALL);
        flow.line(tempo.at(x + BOX + 1_000, y));
    }
}

/// A row to sign, and the caution.
fn sign(flow: &mut Flow, packet: &Packet) {
    flow.keep(SIGNED);
    flow.down(7_000);
    let right = MARGIN + flow.width();
    rule(flow, MARGIN, right, 200);
    flow.end(Tag::Artifact);
    flow.down(9_000);
    let y = flow.y;
    let words = |flow: &mut Flow, text: &str, x: Micrometres| {
        let line = Line::new().roman(text).size(TEXT).at(x, y);
        let end = x + line.width();
        flow.line(line);
        end
    };
    let mut x = words(flow, "Days practised", MARGIN) + 2_500;
    for _ in 0..7 {
        flow.tick(x, y, BOX);
        x += BOX + 1_700;
    }
    x = words(flow, "Heard on", x + 5_000) + 2_000;
    let middle = x + (right - x) * 2 / 5;
    blank(flow, x, middle, y);
    x = words(flow, "by", middle + 2_000) + 2_000;
    blank(flow, x, right, y);
    flow.end(Tag::Paragraph);
    flow.down(3_500);
    flow.text(&packet.care, Style::Italic, SMALL);
    flow.end(Tag::Paragraph);
}

/// A line to write on.
fn blank(flow: &mut Flow, from: Micrometres, to: Micrometres, y: Micrometres) {
    if to > from {
        flow.shape(Shape::Line {
            from: (from, y + 600),
            to: (to, y + 600),
            thick: 200,
        });
    }
}

fn rule(flow: &mut Flow, from: Micrometres, to: Micrometres, thick: Micrometres) {
    let y = flow.y;
    flow.shape(Shape::Line {
        from: (from, y),
        to: (to, y),
        thick,
    });
}

const TITLE: Micrometres = 8_500;
const LONG_TITLE: Micrometres = 5_600;
const AGAIN: &str = "Again";
const HOW: &str = "Tick what you can play. The number beside a key is its page.";
