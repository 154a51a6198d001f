"""A test of the tests: a sheet spoiled in one place must be caught, by every check that can see it."""

import re
from pathlib import Path
from typing import Callable

import by_music21
import by_verovio
import lint
from program import Written
from sheet import Sheet

MUSIC21, VEROVIO, LINT = "music21", "Verovio", "lint"


def once(pattern: str, replacement: str | Callable) -> Callable[[str], str]:
    """Changes the first place that a pattern matches."""

    def spoil(text: str) -> str:
        spoiled, count = re.subn(pattern, replacement, text, count=1, flags=re.S)
        if count != 1 or spoiled == text:
            raise ValueError(f"nothing to spoil: {pattern}")
        return spoiled

    return spoil


def next_letter(match: re.Match) -> str:
    return match[1] + "CDEFGABC"["CDEFGAB".index(match[2]) + 1]


# What is spoiled, how, and who must see it.
SPOILS = {
    "one note's letter": (once(r"(<step>)([A-G])", next_letter), {MUSIC21, VEROVIO}),
    "one note's octave": (once(r"<octave>(\d)", lambda match: f"<octave>{int(match[1]) + 1}"), {MUSIC21, VEROVIO}),
    "one note's alteration": (once(r"<alter>(-?1)</alter>", "<alter>0</alter>"), {MUSIC21, LINT}),
    "one accidental missing": (once(r"<accidental>[a-z-]+</accidental>", ""), {LINT}),
    "one accidental wrong": (once(r"<accidental>[a-z-]+</accidental>", "<accidental>double-sharp</accidental>"), {LINT}),
    "one duration": (once(r"<duration>(\d+)", lambda match: f"<duration>{int(match[1]) + 1}"), {MUSIC21, LINT}),
    "one value": (once(r"<type>eighth</type>", "<type>quarter</type>"), {VEROVIO, LINT}),
    "one tie": (once(r'<tie type="start"\s*/>', ""), {MUSIC21, LINT}),
    "one tie's curve": (once(r'<tied type="start"\s*/>', ""), {VEROVIO, LINT}),
    "the signature": (once(r"<fifths>(-?\d)", lambda match: f"<fifths>{int(match[1]) - 1}"), {MUSIC21, VEROVIO}),
    "the transposition": (once(r"<chromatic>(-?\d+)", lambda match: f"<chromatic>{int(match[1]) - 1}"), {MUSIC21, VEROVIO}),
    "a chord's root": (once(r"(<root-step>)([A-G])", next_letter), {MUSIC21, VEROVIO}),
    "a chord's kind": (once(r">dominant</kind>", ">minor</kind>"), {MUSIC21}),
    "one label": (once(r"<text>[^<]+</text>", "<text>x</text>"), {MUSIC21, VEROVIO}),
    "one beam": (once(r'<beam number="1">end</beam>', ""), {LINT}),
    "one measure's number": (once(r'<measure number="3"', '<measure number="2"'), {LINT}),
}


def unseen(spoil: str, written: Written, folder: Path) -> list[str]:
    """Checks that should have caught a spoiled copy of a sheet and didn't."""
    change, seers = SPOILS[spoil]
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{spoil.replace(' ', '-')}.musicxml"
    path.write_text(change(written.path.read_text(encoding="utf-8")), encoding="utf-8")
    told = Sheet.told(written.told)
    caught = {
        MUSIC21: lambda: told.differences(by_music21.read(str(path))),
        VEROVIO: lambda: told.differences(by_verovio.read(str(path))),
        LINT: lambda: lint.faults(path.read_bytes()),
    }
    return [f"{seer} doesn't see it" for seer in sorted(seers) if not caught[seer]()]
