"""What keys, variants and studies must say, worked out here by counting semitones and permuting; read back with
music21. Key cycles: equal steps, a closed cycle goes on a half step higher (common practice)."""

from dataclasses import dataclass
from fractions import Fraction
from itertools import permutations
from pathlib import Path
from typing import Callable

import by_music21
from program import Program, Written
from sheet import Sheet, midi

CYCLES = {"half steps": 1, "whole steps": 2, "minor thirds": 3, "major thirds": 4, "fourths": 5, "fifths": 7}
HORNS = {"flute": 0, "alto saxophone": 9, "b-flat trumpet": 2}  # semitones from sounding up to written, octaves aside
FIGURE = [0, 4, 7, 5]  # degrees 1 3 5 4 of a mixolydian scale, in semitones
MAJOR = [0, 2, 4, 5, 7, 9, 11]


@dataclass
class Form:
    """A lesson, and what its sheets as read must say."""

    name: str
    lesson: str
    faults: Callable[[list[Written], list[Sheet]], list[str]]


def forms() -> list[Form]:
    ways = [(name, step) for name, step in CYCLES.items()]
    ways += [(f"{name} down", -step) for name, step in CYCLES.items()]
    all_forms = [through(name, step) for name, step in ways]
    all_forms += [shuffled(seed) for seed in (1, 2, 99)]
    all_forms += [later(eighths) for eighths in range(8)]
    all_forms += [orders("1 2 3 5", [0, 2, 4, 7]), orders("1 2 1 5", [0, 2, 0, 7])]
    all_forms += [thirds(interval, steps) for steps, interval in enumerate(("thirds", "fourths", "fifths", "sixths"), start=2)]
    return all_forms


def faults(form: Form, program: Program, folder: Path) -> list[str]:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "form.toml"
    path.write_text(form.lesson, encoding="utf-8")
    written = program.write(path, folder)
    promised = program.run(["write", str(path), "--out", str(folder), "--dry-run"], allowed=(0,))
    counted = [] if f" {len(written)} file" in promised else [f"promised {promised.strip()}, wrote {len(written)}"]
    return counted + form.faults(written, [by_music21.read(str(one.path)) for one in written])


def cycle(step: int) -> list[int]:
    """Twelve keys from C in equal steps."""
    keys, at = [], 0
    while len(keys) < 12:
        if at % 12 in keys:
            at += 1
        keys.append(at % 12)
        at += step
    return keys


def keys_lesson(keys: str) -> str:
    return f"""
title = "Counted Round"
instruments = {list(HORNS)}
{keys}
[scale]
name = "mixolydian"
[figure]
degrees = "1 3 5 4"
count = "1 & 2 3"
[[exercise]]
kind = "keys"
"""


def through(order: str, step: int) -> Form:
    def faulty(written: list[Written], read: list[Sheet]) -> list[str]:
        expected = cycle(step)
        return [fault for one, sheet in zip(written, read) for fault in statements(one, sheet, expected)]

    return Form(f"keys in {order}", keys_lesson(f'keys = "{order}"'), faulty)


def shuffled(seed: int) -> Form:
    """SplitMix64 (Steele, Lea and Flood 2014) drives Fisher and Yates' shuffle from the end."""
    keys, state, mask = list(range(12)), seed, (1 << 64) - 1
    for last in range(11, 0, -1):
        state = (state + 0x9E3779B97F4A7C15) & mask
        value = state
        value = ((value ^ (value >> 30)) * 0xBF58476D1CE4E5B9) & mask
        value = ((value ^ (value >> 27)) * 0x94D049BB133111EB) & mask
        other = (value ^ (value >> 31)) % (last + 1)
        keys[last], keys[other] = keys[other], keys[last]

    def faulty(written: list[Written], read: list[Sheet]) -> list[str]:
        found = [fault for one, sheet in zip(written, read) for fault in statements(one, sheet, keys)]
        unsaid = [one.name for one in written if not any(f"seed {seed}" in said.get("words", "") for said in one.told["directions"])]
        return found + [f"{name} doesn't print its seed" for name in unsaid]

    return Form(f"keys shuffled by {seed}", keys_lesson(f'keys = {{ order = "shuffled", seed = {seed} }}'), faulty)


def statements(one: Written, sheet: Sheet, keys: list[int]) -> list[str]:
    """One bar a key: its chord's root, and the figure on it, as written."""
    [up] = [up for name, up in HORNS.items() if one.told["instrument"] == name.replace(" ", "-")]
    roots = [(root + up) % 12 for root in keys]
    onsets = [Fraction(at, 2) for at in (0, 1, 2, 4)]
    expected = [(4 * bar + at, (root + tone) % 12) for bar, root in enumerate(roots) for at, tone in zip(onsets, FIGURE)]
    found = [(onset, midi(pitch) % 12) for onset, _, pitch in sheet.notes]
    chords = [(onset, midi(root + "4") % 12) for onset, root, *_ in sheet.chords]
    faulty = [] if found == expected else [f"{one.name}: {expected} expected, {found} read"]
    faulty += [] if chords == [(4 * bar, root) for bar, root in enumerate(roots)] else [f"{one.name}: chords {chords}"]
    return faulty + ([] if sheet.signatures in ([], [(0, 0)]) else [f"{one.name}: signature {sheet.signatures}"])


def later(eighths: int) -> Form:
    """The original's onsets and half a quarter more for each eighth."""
    said = f'variant = "{eighths} eighths later"' if eighths else ""
    lesson = f"""
title = "Counted Late"
instruments = ["flute"]
keys = ["C"]
[scale]
name = "major"
[figure]
degrees = "1 2 3 5"
count = "1 & (2) & 3"
[[exercise]]
kind = "sequence"
ending = "none"
direction = "up"
{said}
"""
    original = [Fraction(8 * statement + at, 2) for statement in range(8) for at in (0, 1, 3, 4)]

    def faulty(_: list[Written], read: list[Sheet]) -> list[str]:
        onsets = [onset for onset, *_ in read[0].notes]
        expected = [onset + Fraction(eighths, 2) for onset in original]
        return [] if onsets == expected else [f"{expected} expected, {onsets} read"]

    return Form(f"{eighths} eighths later", lesson, faulty)


def orders(degrees: str, tones: list[int]) -> Form:
    lesson = f"""
title = "Counted Orders"
instruments = ["trombone"]
keys = ["C"]
[scale]
name = "major"
[figure]
degrees = "{degrees}"
[[exercise]]
kind = "figure"
variants = "every order"
"""
    expected = {tuple(tone % 12 for tone in order) for order in permutations(tones)}

    def faulty(_: list[Written], read: list[Sheet]) -> list[str]:
        sounded = [midi(pitch) % 12 for _, _, pitch in read[0].notes]
        found = [tuple(sounded[at : at + 4]) for at in range(0, len(sounded), 4)]
        return [] if len(found) == len(expected) and set(found) == expected else [f"{len(found)} orders, {len(expected)} expected"]

    return Form(f"every order of {degrees}", lesson, faulty)


def thirds(interval: str, steps: int) -> Form:
    lesson = f"""
title = "Counted Steps"
instruments = ["flute"]
keys = ["C"]
[scale]
name = "major"
[[exercise]]
kind = "intervals"
of = "{interval}"
ending = "none"
"""
    ups = [rung + step for rung in range(8) for step in (0, steps)]
    downs = [rung - step for rung in reversed(range(8)) for step in (0, steps)]

    def faulty(_: list[Written], read: list[Sheet]) -> list[str]:
        heights = [midi(pitch) for _, _, pitch in read[0].notes]
        expected = [12 * (rung // 7) + MAJOR[rung % 7] for rung in ups + downs]
        found = [height - heights[0] for height in heights]
        lengths = {length for _, length, _ in read[0].notes}
        return [] if found == expected and lengths == {Fraction(1, 2)} else [f"{expected} expected, {found} read"]

    return Form(f"intervals of {interval}", lesson, faulty)
