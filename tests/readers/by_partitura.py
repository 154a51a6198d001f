"""A sheet as partitura reads it: written pitch, times, signatures and plain meters. It carries no octaves of a
transposition, no labels, no marks, of chords only their roots, and of meters none that are written as a sum."""

import warnings
from fractions import Fraction

import partitura
from partitura import score

from sheet import Sheet, join_ties


def read(path: str) -> Sheet:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        part = partitura.load_musicxml(path).parts[0]
    points = [point.t for point in part._points]
    quarters = part.quarter_map(points)
    # Its map begins at the first bar line, which a pickup comes before.
    exact = {t: Fraction(float(q - quarters[0])).limit_denominator(16383) for t, q in zip(points, quarters)}
    # Slashes are notes to it.
    sheet = Sheet(labels=None, chords=None, slashes=None)
    pieces = []
    for note in sorted(part.notes, key=lambda note: note.start.t):
        on, off = exact[note.start.t], exact[note.end.t]
        pieces.append((on, off - on, name(note), note.tie_next is not None))
    sheet.notes = join_ties(pieces)
    # Octaves are not in it: what sounds is the other readers' word.
    sheet.transposition, sheet.heard = (None, None), None
    sheet.signatures = [(exact[one.start.t], one.fifths) for one in part.iter_all(score.KeySignature)]
    sheet.meters = [(exact[one.start.t], f"{one.beats}/{one.beat_type}") for one in part.iter_all(score.TimeSignature)]
    return sheet


def name(note: score.Note) -> str:
    return note.step + {-2: "bb", -1: "b", 1: "#", 2: "##"}.get(note.alter, "") + str(note.octave)
