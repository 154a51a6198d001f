//! Notes and rests (`note`).

use rhythm::{Beams, NoteValue, TupletEdge};
use score::{Lyrics, Marks, Note, Rest, Slash, Written};
use theory::Pitch;

use crate::sink::Sink;
use crate::words;

/// A note.
pub(crate) fn note(sink: &mut Sink<'_>, note: &Note) {
    let head = if note.marks.ghost {
        "        <notehead parentheses=\"yes\">normal</notehead>\n"
    } else {
        ""
    };
    pitched(sink, note, head);
}

/// A slash: a note with a head of its own, without a stem where it only says
/// a beat.
pub(crate) fn slash(sink: &mut Sink<'_>, slash: &Slash) {
    let head = if slash.rhythmic {
        "        <notehead>slash</notehead>\n"
    } else {
        "        <stem>none</stem>\n        <notehead>slash</notehead>\n"
    };
    pitched(sink, &slash.note, head);
}

fn pitched(sink: &mut Sink<'_>, note: &Note, head: &str) {
    sink.put("      <note>\n        <pitch>\n          <step>");
    pitch(sink, note.pitch);
    sink.put("</octave>\n        </pitch>\n        <duration>");
    sink.number(note.written.length);
    sink.put(match (note.tied_from, note.tied_to) {
        (false, false) => "</duration>\n        <voice>1</voice>\n",
        (true, false) => "</duration>\n        <tie type=\"stop\"/>\n        <voice>1</voice>\n",
        (false, true) => "</duration>\n        <tie type=\"start\"/>\n        <voice>1</voice>\n",
        (true, true) => {
            "</duration>\n        <tie type=\"stop\"/>\n        <tie type=\"start\"/>\n        <voice>1</voice>\n"
        }
    });
    value(sink, note.written.value);
    if let Some(accidental) = note.accidental
        && let Some(sign) = words::accidental(note.pitch.alteration())
    {
        sink.put(if accidental.courtesy {
            "        <accidental cautionary=\"yes\">"
        } else {
            "        <accidental>"
        });
        sink.put(sign);
        sink.put("</accidental>\n");
    }
    time_modification(sink, note.written.value);
    sink.put(head);
    beams(sink, &note.beams);
    notations(
        sink,
        (note.tied_from, note.tied_to),
        note.written.edge,
        note.marks,
    );
    lyrics(sink, &note.lyrics);
    sink.put("      </note>\n");
}

/// A rest.
pub(crate) fn rest(sink: &mut Sink<'_>, rest: &Rest) {
    let Written {
        length,
        value: as_written,
        edge,
        ..
    } = rest.written;
    sink.put(if rest.hidden {
        "      <note print-object=\"no\">\n"
    } else {
        "      <note>\n"
    });
    sink.put(if rest.whole_bar {
        "        <rest measure=\"yes\"/>\n        <duration>"
    } else {
        "        <rest/>\n        <duration>"
    });
    sink.number(length);
    sink.put("</duration>\n        <voice>1</voice>\n");
    if !rest.whole_bar {
        value(sink, as_written);
        time_modification(sink, as_written);
        notations(sink, (false, false), edge, Marks::default());
    }
    sink.put("      </note>\n");
}

fn pitch(sink: &mut Sink<'_>, pitch: Pitch) {
    sink.put(words::step(pitch.letter()));
    match pitch.alteration() {
        0 => sink.put("</step>\n          <octave>"),
        1 => sink.put("</step>\n          <alter>1</alter>\n          <octave>"),
        -1 => sink.put("</step>\n          <alter>-1</alter>\n          <octave>"),
        alteration => {
            sink.put("</step>\n          <alter>");
            sink.number(alteration);
            sink.put("</alter>\n          <octave>");
        }
    }
    sink.number(pitch.octave());
}

fn value(sink: &mut Sink<'_>, value: NoteValue) {
    sink.put("        <type>");
    sink.put(words::value_kind(value.kind));
    sink.put("</type>\n");
    for _ in 0..value.dots {
        sink.put("        <dot/>\n");
    }
}

fn time_modification(sink: &mut Sink<'_>, value: NoteValue) {
    let Some(tuplet) = value.tuplet else { return };
    sink.put("        <time-modification>\n          <actual-notes>");
    sink.number(tuplet.actual);
    sink.put("</actual-notes>\n          <normal-notes>");
    sink.number(tuplet.normal);
    sink.put("</normal-notes>\n");
    // A dotted note isn't the plain unit either.
    if value.kind != tuplet.unit || value.dots > 0 {
        sink.put("          <normal-type>");
        sink.put(words::value_kind(tuplet.unit));
        sink.put("</normal-type>\n");
    }
    sink.put("        </time-modification>\n");
}

fn beams(sink: &mut Sink<'_>, beams: &Beams) {
    const OPENINGS: [&str; 4] = [
        "        <beam number=\"1\">",
        "        <beam number=\"2\">",
        "        <beam number=\"3\">",
        "        <beam number=\"4\">",
    ];
    for (opening, beam) in OPENINGS.iter().zip(beams) {
        let Some(beam) = *beam else { return };
        sink.put(opening);
        sink.put(words::beam(beam));
        sink.put("</beam>\n");
    }
}

fn notations(
    sink: &mut Sink<'_>,
    (tied_from, tied_to): (bool, bool),
    edge: Option<TupletEdge>,
    marks: Marks,
) {
    // A ghost note's sign is its head.
    let marks = Marks {
        ghost: false,
        ..marks
    };
    if !(tied_from || tied_to || edge.is_some() || marks != Marks::default()) {
        return;
    }
    sink.put("        <notations>\n");
    if tied_from {
        sink.put("          <tied type=\"stop\"/>\n");
    }
    if tied_to {
        sink.put("          <tied type=\"start\"/>\n");
    }
    sink.put(match edge {
        None => "",
        Some(TupletEdge::Start { bracket: true }) => {
            "          <tuplet type=\"start\" number=\"1\" bracket=\"yes\"/>\n"
        }
        Some(TupletEdge::Start { bracket: false }) => {
            "          <tuplet type=\"start\" number=\"1\" bracket=\"no\"/>\n"
        }
        Some(TupletEdge::Stop) => "          <tuplet type=\"stop\" number=\"1\"/>\n",
    });
    slurs(sink, marks);
    articulations(sink, marks);
    sink.put("        </notations>\n");
}

/// The end of one before the beginning of the next, or readers pair them
/// wrong.
fn slurs(sink: &mut Sink<'_>, marks: Marks) {
    if marks.slur_ends {
        sink.put("          <slur type=\"stop\" number=\"1\"/>\n");
    }
    if marks.slur_begins {
        sink.put("          <slur type=\"start\" number=\"1\"/>\n");
    }
}

fn articulations(sink: &mut Sink<'_>, marks: Marks) {
    let signs = [
        (marks.accent, "            <accent/>\n"),
        (marks.staccato, "            <staccato/>\n"),
        (marks.tenuto, "            <tenuto/>\n"),
        (marks.scoop, "            <scoop/>\n"),
        (marks.doit, "            <doit/>\n"),
        (marks.fall, "            <falloff/>\n"),
        (marks.breath, "            <breath-mark/>\n"),
    ];
    if signs.iter().all(|(there, _)| !there) {
        return;
    }
    sink.put("          <articulations>\n");
    for (_, sign) in signs.iter().filter(|(there, _)| *there) {
        sink.put(sign);
    }
    sink.put("          </articulations>\n");
}

fn lyrics(sink: &mut Sink<'_>, lyrics: &Lyrics) {
    const OPENINGS: [&str; 4] = [
        "        <lyric number=\"1\" placement=\"below\">\n          <syllabic>single</syllabic>\n          <text>",
        "        <lyric number=\"2\" placement=\"below\">\n          <syllabic>single</syllabic>\n          <text>",
        "        <lyric number=\"3\" placement=\"below\">\n          <syllabic>single</syllabic>\n          <text>",
        "        <lyric number=\"4\" placement=\"below\">\n          <syllabic>single</syllabic>\n          <text>",
    ];
    for (opening, lyric) in OPENINGS.iter().zip(lyrics) {
        if let Some(lyric) = lyric {
            sink.put(opening);
            sink.text(lyric);
            sink.put("</text>\n        </lyric>\n");
        }
    }
}
