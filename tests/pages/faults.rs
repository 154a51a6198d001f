//! What is wrong on a page: marks that are missing, that touch, or that leave it.

use std::collections::BTreeMap;

use engrave::{DrawnSheet, Ink, MarkOnPage, NotePlace, Page, Paper, Role};
use rhythm::Fraction;
use score::{Element, Score};

/// What printers leave white.
const MARGIN: i32 = 5_000;

/// Micrometres by which boxes may share an edge: ink is rounder than the box
/// around it.
const EDGE: i32 = 150;

pub(crate) fn faults(score: &Score, paper: Paper) -> Vec<String> {
    let sheet = engrave::sheet(score, paper);
    let mut faults = counted(score, &sheet);
    for (place, page) in sheet.pages.iter().enumerate() {
        let here = measured(page).into_iter().chain(spaced(page));
        faults.extend(here.map(|fault| format!("page {}: {fault}", place + 1)));
    }
    if !sheet.missing.is_empty() {
        faults.push(format!("no font has {:?}", sheet.missing));
    }
    faults
}

pub(crate) fn count(sheet: &DrawnSheet, role: Role) -> usize {
    let pages = sheet.pages.iter();
    pages
        .flat_map(Page::seen)
        .filter(|seen| seen.role == role)
        .count()
}

fn elements(score: &Score) -> impl Iterator<Item = &Element> {
    let measures = score.part.measures.iter();
    measures.flat_map(|measure| &measure.elements)
}

pub(crate) fn notes(score: &Score) -> usize {
    let notes = |element: &&Element| matches!(element, Element::Note(_));
    elements(score).filter(notes).count()
}

/// As many of each kind as the score has.
fn counted(score: &Score, sheet: &DrawnSheet) -> Vec<String> {
    let rests = |element: &&Element| matches!(element, Element::Rest(rest) if !rest.hidden);
    let slashes = |element: &&Element| matches!(element, Element::Slash(_));
    let chords = |element: &&Element| element.written().chord.is_some();
    let accidentals = elements(score).filter_map(|element| match element {
        Element::Note(note) => note.accidental,
        _ => None,
    });
    let accidentals = accidentals.map(|sign| if sign.courtesy { 3 } else { 1 });
    let labels = elements(score).filter_map(|element| match element {
        Element::Note(note) => Some(note),
        Element::Slash(slash) => Some(&slash.note),
        Element::Rest(_) => None,
    });
    let labels = labels.map(|note| {
        note.lyrics
            .iter()
            .flatten()
            .filter(|text| !text.is_empty())
            .count()
    });
    let wanted = [
        (Role::Notehead, notes(score)),
        (Role::Rest, elements(score).filter(rests).count()),
        (Role::Slash, elements(score).filter(slashes).count()),
        (Role::Chord, elements(score).filter(chords).count()),
        (Role::Accidental, accidentals.sum()),
        (Role::Label, labels.sum()),
    ];
    let wrong = wanted.into_iter().filter_map(|(role, wanted)| {
        let drawn = count(sheet, role);
        (drawn != wanted).then(|| format!("{drawn} of {wanted} {}s", role.class()))
    });
    wrong.collect()
}

/// What stands outside of the page, texts that touch each other or the music,
/// and marks of one note that touch those of another.
pub(crate) fn measured(page: &Page) -> Vec<String> {
    let [width, height] = [page.paper.width(), page.paper.height()];
    let mut faults = Vec::new();
    let seen: Vec<MarkOnPage<'_>> = page.seen().collect();
    for one in &seen {
        let ink = one.ink;
        if ink.left < MARGIN
            || ink.top < MARGIN
            || ink.right > width - MARGIN
            || ink.bottom > height - MARGIN
        {
            faults.push(format!("{} leaves the page", said(one)));
        }
    }
    let solid: Vec<&MarkOnPage<'_>> = seen.iter().filter(|one| is_solid(one.role)).collect();
    for (place, one) in solid.iter().enumerate() {
        for other in &solid[place + 1..] {
            if may_touch(one, other) {
                continue;
            }
            let [a, b] = [one.ink, other.ink].map(|ink| Ink {
                left: ink.left + EDGE,
                top: ink.top + EDGE,
                right: ink.right - EDGE,
                bottom: ink.bottom - EDGE,
            });
            if a.meets(&b) {
                faults.push(format!("{} touches {}", said(one), said(other)));
            }
        }
    }
    faults
}

fn said(one: &MarkOnPage<'_>) -> String {
    let text = one.text.clone().unwrap_or_default();
    let bar = one.note.map_or(String::new(), |note| {
        format!(" of bar {} at {}", note.bar, note.onset)
    });
    format!("{} {text:?}{bar} at {:?}", one.role.class(), one.ink)
}

/// What has a place of its own: not the lines that others stand on, nor what
/// hangs over them in a slant.
fn is_solid(role: Role) -> bool {
    !matches!(
        role,
        Role::Staff | Role::Ledger | Role::Beam | Role::Tie | Role::Slur
    )
}

/// Parts of one thing: a note's own marks, a letter and its frame, a meter's or
/// a dynamic's figures, a bracket and its number, bar lines and brackets.
fn may_touch(one: &MarkOnPage<'_>, other: &MarkOnPage<'_>) -> bool {
    let both = |role: Role| one.role == role && other.role == role;
    let same_note = one.note.is_some() && one.frame == other.frame && same(one.note, other.note);
    let in_text = one.text.is_none() || other.text.is_none();
    let framed = [Role::Letter, Role::Text, Role::Tempo]
        .into_iter()
        .any(both);
    (in_text && (same_note || framed))
        || both(Role::Meter)
        || both(Role::Signature)
        || both(Role::Dynamic)
        || both(Role::Tuplet)
        || both(Role::Barline)
        || both(Role::Bracket)
        || (one.role == Role::Bracket && other.role == Role::Barline)
        || (one.role == Role::Barline && other.role == Role::Bracket)
}

fn same(one: Option<&NotePlace>, other: Option<&NotePlace>) -> bool {
    one == other
}

/// A note of a bar, its left edge, and all its ink.
type Spaced<'a> = (&'a NotePlace, i32, Ink);

/// Notes of a bar that are equal and differ in distance, or are shorter than
/// others and stand a third wider, though no ink forces them.
fn spaced(page: &Page) -> Vec<String> {
    let mut faults = Vec::new();
    let mut bars: BTreeMap<(usize, String), Vec<Spaced<'_>>> = BTreeMap::new();
    for seen in page.seen() {
        let Some(note) = seen.note else { continue };
        let bar = bars.entry((seen.frame, note.bar.to_string())).or_default();
        match bar.iter_mut().find(|(known, ..)| *known == note) {
            Some((_, left, ink)) => {
                if matches!(seen.role, Role::Notehead | Role::Rest) {
                    *left = seen.ink.left;
                }
                *ink = Ink {
                    left: ink.left.min(seen.ink.left),
                    right: ink.right.max(seen.ink.right),
                    ..*ink
                };
            }
            None => bar.push((note, seen.ink.left, seen.ink)),
        }
    }
    let chords: Vec<MarkOnPage<'_>> = page
        .seen()
        .filter(|seen| seen.role == Role::Chord)
        .collect();
    let ties: Vec<MarkOnPage<'_>> = page.seen().filter(|seen| seen.role == Role::Tie).collect();
    let tied = |frame: usize, left: i32, right: i32| {
        let inside = |tie: &&MarkOnPage<'_>| tie.ink.left >= left && tie.ink.right <= right;
        ties.iter()
            .filter(|tie| tie.frame == frame)
            .any(|tie| inside(&tie))
    };
    // Where chord symbols stand close, they force the notes under them.
    let crowded = |frame: usize, left: i32, right: i32| {
        chords.windows(2).any(|pair| {
            pair[0].frame == frame
                && pair[1].frame == frame
                && pair[1].ink.left - pair[0].ink.right < page.frames[frame].thousand * 3 / 2
                && pair[0].ink.left < right
                && pair[1].ink.left > left
        })
    };
    for ((frame, bar), notes) in bars {
        let left = notes.iter().map(|(_, left, _)| *left).min().unwrap_or(0);
        let right = notes.iter().map(|(_, left, _)| *left).max().unwrap_or(0);
        if crowded(frame, left, right) {
            continue;
        }
        let ways: Vec<(Fraction, i32, i32)> = notes
            .windows(2)
            .map(|pair| {
                let [(one, left, ink), (_, next, other)] = [pair[0], pair[1]];
                // A tie needs its length.
                let room = match tied(frame, left, next + 2_000) {
                    true => 0,
                    false => other.left - ink.right,
                };
                (one.length, next - left, room)
            })
            .collect();
        for (length, way, ink) in &ways {
            let alike = ways.iter().filter(|(other, ..)| other == length);
            let least = alike.map(|(_, way, _)| *way).min().unwrap_or(*way);
            // Forced is what stands no further from its neighbour than it must.
            let near = page.frames[frame].thousand * 7 / 10;
            if way * 100 > least * 105 && *ink > near {
                faults.push(format!("bar {bar}: {length} takes {least} and {way}"));
            }
            let longer = ways.iter().filter(|(other, ..)| other > length);
            if let Some((other, narrow, _)) = longer.min_by_key(|(_, way, _)| *way)
                && way * 3 > narrow * 4
                && *ink > near
            {
                faults.push(format!(
                    "bar {bar}: {length} takes {way}, {other} only {narrow}"
                ));
            }
        }
    }
    faults
}
