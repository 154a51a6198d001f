"""Every chord kind that can be named: does music21 build the chord that the symbol's degrees mean?"""

from pathlib import Path

from music21 import converter, harmony

import schema
from program import Program

MAJOR = [0, 2, 4, 5, 7, 9, 11]


def faults(chord: dict, program: Program, folder: Path) -> list[str]:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "chord.toml"
    path.write_text(lesson(chord["suffix"]), encoding="utf-8")
    [written] = program.write(path, folder)
    [symbol] = {(one["symbol"], tuple(one["tones"])) for one in written.told["chords"]}
    score = converter.parse(str(written.path), forceSource=True)
    read = score.flatten().getElementsByClass(harmony.Harmony).first()
    meant = {semitones(degree) % 12 for degree in chord["degrees"]}
    heard = set() if isinstance(read, harmony.NoChord) else {pitch.pitchClass for pitch in read.pitches}
    found = schema.faults(written.path.read_bytes())
    # The standard stacks an 11th into its 13ths and a 3rd into its 11ths; players leave them out (common practice).
    stacked = {5} if "13" in chord["suffix"] else {4} if "11" in chord["suffix"] else set()
    bass = {semitones(chord["suffix"][1:]) % 12} if chord["suffix"].startswith("/") else set()
    if bass and {read.bass().pitchClass} != bass:
        found.append(f"{symbol[0]} is over {bass}, read over {read.bass()}")
    if not meant <= heard <= meant | stacked | bass:
        found.append(f"{symbol[0]} means {sorted(meant)}, read as {sorted(heard)}")
    return found


def semitones(degree: str) -> int:
    number = int(degree.lstrip("b#"))
    return MAJOR[(number - 1) % 7] + degree.count("#") - degree.count("b")


def lesson(suffix: str) -> str:
    return f"""
title = "One Chord"
instruments = ["flute"]
[keys]
only = ["C"]
[scale]
name = "major"
chord = "{suffix or 'maj'}"
[figure]
moves = "start, step up"
[[exercise]]
kind = "figure"
"""
