"""Makes again, with music21, sheets that the program wrote: the same notes, bars, clef, signature and transposition,
the same labels, chord symbols, rehearsal marks, words and lines at the head.

    python music21_sheets.py SHEETS_JSON OUT

SHEETS_JSON is what `write --format json` printed. Prints seconds a sheet, imports and reading left out.
"""

import json
import sys
import time
from fractions import Fraction
from pathlib import Path

from music21 import clef, expressions, harmony, instrument, interval, key, metadata, meter, note, stream, tempo, text


#: The catalogue's clefs, by sign, line and octave.
CLEFS = {
    ("G", 2, 0): clef.TrebleClef,
    ("G", 2, -1): clef.Treble8vbClef,
    ("F", 4, 0): clef.BassClef,
    ("C", 3, 0): clef.AltoClef,
    ("C", 4, 0): clef.TenorClef,
}


def pitch(name):
    return name.replace("b", "-")


def direction(told):
    if "letter" in told:
        return expressions.RehearsalMark(told["letter"])
    if "words" in told:
        return expressions.TextExpression(told["words"])
    if "tempo" in told:
        return tempo.MetronomeMark(number=float(Fraction(told["tempo"])))
    return expressions.TextExpression(told.get("dynamic") or told["feel"])


def chord(told):
    symbol = harmony.ChordSymbol(root=pitch(told["root"]), kind=told["kind"])
    if told["bass"]:
        symbol.bass(pitch(told["bass"]))
    return symbol


def score(told):
    part = stream.Part()
    transposition = told["transposition"]
    sign = told["clef"]
    measures = []
    for place, measure in enumerate(told["measures"]):
        bar = stream.Measure(number=place + 1)
        if place == 0:
            bar.append(CLEFS[sign["sign"], sign["line"], sign["octave_change"]]())
        if "meter" in measure:
            bar.append(meter.TimeSignature(measure["meter"]))
        if "signature" in measure:
            bar.append(key.KeySignature(measure["signature"]))
        measures.append(bar)
        part.append(bar)
    length = Fraction(measures[0].barDuration.quarterLength)

    def put(onset, thing):
        place = min(int(onset // length), len(measures) - 1)
        measures[place].insert(onset - place * length, thing)

    for one in told["directions"]:
        if (thing := direction(one)) is not None:
            put(Fraction(one["onset"]), thing)
    for one in told["chords"]:
        put(Fraction(one["onset"]), chord(one))
    for one in told["notes"]:
        made = note.Note(pitch(one["written"]))
        made.quarterLength = Fraction(one["length"])
        for row, label in enumerate(one["labels"], 1):
            if label is not None:
                made.addLyric(label, row)
        put(Fraction(one["onset"]), made)
    if transposition:
        player = instrument.Instrument(told["part"])
        player.transposition = interval.Interval(transposition["chromatic"] + 12 * transposition["octave_change"])
        part.insert(0, player)
    whole = stream.Score([part])
    for line, words in enumerate(told["head"]):
        whole.insert(0, text.TextBox(words, 85, 1550 - 30 * line))
    whole.metadata = metadata.Metadata(title=told["title"])
    return whole


def main(sheets, out):
    out = Path(out)
    out.mkdir(parents=True, exist_ok=True)
    told = json.loads(Path(sheets).read_text())
    begun = time.perf_counter()
    for place, sheet in enumerate(told):
        score(sheet).write("musicxml", fp=out / f"{place}.musicxml")
    print((time.perf_counter() - begun) / len(told))


if __name__ == "__main__":
    main(*sys.argv[1:])
