"""Books and scores with everyone in them: what they hold is what the sheets hold, as music21 reads them."""

from __future__ import annotations

import json
import warnings
from fractions import Fraction
from pathlib import Path

from music21 import converter, note, stream

import lint
import schema
from program import Program
from sheet import midi

# A room with horns in several keys and octaves, pickups and players who turn early.
LESSONS = ("five-ferries", "night-crossing", "smallest")


def faults(lesson: Path, program: Program, folder: Path) -> list[str]:
    found = []
    for pitch in ("transposed", "concert"):
        out = folder / pitch
        sheets = program.write(lesson, out, "--gather", "--room", pitch)
        told = json.loads((out / lesson.stem / "contents.json").read_text(encoding="utf-8"))
        for name in told["bound"]:
            path = out / lesson.stem / name
            data = path.read_bytes()
            found += [f"{name}: {fault}" for fault in schema.faults(data)]
            if path.stem == "book":
                found += [f"{name}: {fault}" for fault in lint.faults(data)]
                found += book(path, [sheet.told for sheet in sheets if sheet.path.parent == path.parent])
            else:
                found += room(path, [sheet.told for sheet in sheets], pitch)
        if not any(name.startswith("room/") for name in told["bound"]):
            found.append("no score with everyone in it")
    return found


def book(path: Path, sheets: list[dict]) -> list[str]:
    """Every sheet's notes, in order, and no others."""
    expected = [(one["written"], Fraction(one["length"])) for sheet in sheets for one in sheet["notes"]]
    (part,) = parts(path)
    return [] if joined(part) == expected else [f"{path}: its notes aren't its sheets' notes"]


def room(path: Path, sheets: list[dict], pitch: str) -> list[str]:
    """Each part plays its sheet in that key; all have the same bars."""
    # Numbered as the first player's sheet; the others sound in the same key.
    first = next(sheet for sheet in sheets if sheet["number"] == int(path.stem[:2]))
    players = [sheet for sheet in sheets if key(sheet) == key(first)]
    read = parts(path)
    found = []
    if len(read) != len(players):
        return [f"{path}: {len(read)} parts for {len(players)} players"]
    if len({len(part.getElementsByClass(stream.Measure)) for part in read}) != 1:
        found.append(f"{path}: not everyone has the same bars")
    sounding = parts(path, sounding=True)
    for part, sheet, heard in zip(read, players, sounding):
        if pitch == "transposed" and [name for name, _ in joined(part)] != [one["written"] for one in sheet["notes"]]:
            found.append(f"{path}: {sheet['sheet']} reads other notes")
        if [midi(name) for name, _ in joined(heard)] != [midi(one["sounding"]) for one in sheet["notes"]]:
            found.append(f"{path}: {sheet['sheet']} sounds other notes")
    return found


def key(sheet: dict) -> int:
    return midi(f"{sheet['concert_key']}4") % 12


def parts(path: Path, sounding: bool = False) -> list[stream.Part]:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        score = converter.parse(str(path), forceSource=True)
        if sounding:
            score.toSoundingPitch(inPlace=True)
        return list(score.parts)


def joined(part: stream.Part) -> list[tuple[str, Fraction]]:
    """Written names and lengths, ties joined, slashes left out."""
    found: list[tuple[str, Fraction]] = []
    for one in part.recurse().getElementsByClass(note.Note):
        if one.notehead == "slash":
            continue
        length = Fraction(one.quarterLength).limit_denominator(20000)
        if one.tie is not None and one.tie.type in ("stop", "continue"):
            found[-1] = (found[-1][0], found[-1][1] + length)
        else:
            found.append((one.pitch.nameWithOctave.replace("-", "b"), length))
    return found
