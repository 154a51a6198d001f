"""Makes again, with music21, sheets that the program wrote: the same notes, bars, signature and transposition.

    python music21_sheets.py SHEETS_JSON OUT LIMIT

SHEETS_JSON is what `write --format json` printed. Prints seconds a sheet, imports and reading left out.
"""

import json
import sys
import time
from fractions import Fraction
from pathlib import Path

from music21 import clef, instrument, interval, key, metadata, meter, note, stream


def score(told):
    part = stream.Part()
    transposition = told["transposition"]
    measures = []
    for place, measure in enumerate(told["measures"]):
        bar = stream.Measure(number=place + 1)
        if place == 0:
            bar.append(clef.TrebleClef())
            bar.append(meter.TimeSignature(measure["meter"]))
            bar.append(key.KeySignature(measure["signature"]))
        measures.append(bar)
        part.append(bar)
    length = Fraction(measures[0].barDuration.quarterLength)
    for one in told["notes"]:
        onset = Fraction(one["onset"])
        made = note.Note(one["written"].replace("b", "-"))
        made.quarterLength = Fraction(one["length"])
        place = min(int(onset // length), len(measures) - 1)
        measures[place].insert(onset - place * length, made)
    if transposition:
        player = instrument.Instrument()
        player.transposition = interval.Interval(transposition["chromatic"])
        part.insert(0, player)
    whole = stream.Score([part])
    whole.metadata = metadata.Metadata(title=told["lesson"])
    return whole


def main(sheets, out, limit):
    out = Path(out)
    out.mkdir(parents=True, exist_ok=True)
    told = json.loads(Path(sheets).read_text())[: int(limit)]
    begun = time.perf_counter()
    for place, sheet in enumerate(told):
        score(sheet).write("musicxml", fp=out / f"{place}.musicxml")
    print((time.perf_counter() - begun) / len(told))


if __name__ == "__main__":
    main(*sys.argv[1:])
