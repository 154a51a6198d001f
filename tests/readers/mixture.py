"""Twenty lessons drawn by a seed over every kind, meter, scale, horn and level: each is taken without a mistake, each
sheet is valid, every bar is full, and no note is off the horn."""

from __future__ import annotations

import random
from pathlib import Path

import lint
import schema
from program import Program
from sheet import midi

SEED = 1812
COUNT = 20

# A meter, a count in it, and how many notes that has.
COUNTS = (
    ("4/4", "1 & 2 & (3) & 4 &", 7),
    ("4/4", "1 trip let 2 & 3", 6),
    ("4/4", "4 & | 1 & 2 (3)", 5),
    ("3/4", "1 e & a 2 3", 6),
    ("5/4", "1 2 & 3 & 5", 6),
    ("6/8", "1 2 3 4 6", 5),
    ("7/8", "1 2 3 4 5 6 7", 7),
    ("2/2", "1 & 2 &", 4),
    ("12/8", "1 la li 2 la li 3 4", 8),
    ("4/4", "1-2 & 3 4 & | -1 & (2) 3-4", 7),
    ("3/4", "3 & | 1-2 & (3)", 4),
)
STEPS = ("step up", "step down", "skip up", "skip down", "repeat", "up 3 steps", "down 3 steps", "step up", "step down")
VARIANTS = (
    "flipped", "reversed", "flipped and reversed", "begun on note 2", "begun on each note", "3 eighths later",
    "begun on every eighth", "half values", "double values", "in 3/4",
)  # fmt: skip
KINDS = (
    'kind = "scale"\nspan = "{span}"\ndirection = "{direction}"',
    'kind = "figure"\ndirection = "{direction}"\ncoming_down = "{down}"',
    'kind = "sequence"\nspan = "{span}"\ndirection = "{direction}"\ncoming_down = "{down}"\nwhen_too_wide = "{wide}"',
    'kind = "keys"\nsay = "{say}"',
    'kind = "intervals"\nof = "{interval}"\npattern = "{pattern}"\ndirection = "{direction}"',
    'kind = "runs"\nof = "{run}"\npattern = "{pattern}"\nspan = "{span}"',
    'kind = "sequence"\nvariants = ["{variant}"]\ndirection = "up"',
    'kind = "figure"\nvariant = "{single}"',
    'kind = "trade"',
    'kind = "write out"\nline = "sequence"',
    'kind = "write out"',
)


def lessons(program: Program, count: int = COUNT) -> list[str]:
    """The texts of the drawn lessons; every kind is in some, every draw the same."""
    draw = random.Random(SEED)
    scales = [one["id"] for one in program.list("scales")]
    horns = [one["id"] for one in program.list("instruments")]
    return [lesson(draw, place, scales, horns) for place in range(count)]


def lesson(draw: random.Random, place: int, scales: list, horns: list) -> str:
    meter, count, notes = draw.choice(COUNTS)
    moves = ", ".join(["start", *(draw.choice(STEPS) for _ in range(notes - 1))])
    kinds = [KINDS[place % len(KINDS)], *draw.sample(KINDS, 2)]
    named = ", ".join(f'"{horn}"' for horn in draw.sample(horns, 3))
    keys = draw.choice(('order = "fifths"', 'order = "shuffled"\nseed = 9', 'order = "minor thirds down"', "draw = 4"))
    head = [
        f'title = "Mixture {place}"',
        f"instruments = [{named}]",
        f'level = "{draw.choice(("beginner", "intermediate", "advanced"))}"',
        f'feel = "{draw.choice(("straight", "swing"))}"',
        f'signature = "{draw.choice(("fitting", "tonic", "none"))}"',
        f'breath = "{draw.choice(("mark", "rest", "none"))}"',
        f"together = {draw.choice(('true', 'false'))}",
        draw.choice(("tempo = 96", "tempo = { from = 60, to = 90, by = 10 }", "")),
        "labels = " + draw.choice(("[]", '["degrees", "counts"]', '["note names", "moves"]')),
        f'[keys]\n{keys}\nnamed = "{draw.choice(("concert", "written"))}"',
        f'[scale]\nname = "{draw.choice(scales)}"',
        f'[figure]\nmeter = "{meter}"\nmoves = "{moves}"\ncount = "{count}"',
    ]
    return "\n".join(head + [f"[[exercise]]\n{exercise(draw, kind)}" for kind in kinds]) + "\n"


def exercise(draw: random.Random, kind: str) -> str:
    return kind.format(
        span=draw.choice(("one octave", "two octaves", "whole horn")),
        direction=draw.choice(("up", "down", "up and down")),
        down=draw.choice(("flipped", "reversed", "as it is")),
        wide=draw.choice(("turn early", "jump", "leave out")),
        say=draw.choice(("figure", "sequence")),
        interval=draw.choice(("thirds", "fourths", "fifths", "sixths", "sevenths", "octaves")),
        run=draw.choice(("three", "four", "five")),
        pattern=draw.choice(("straight", "broken")),
        variant=draw.choice(VARIANTS),
        single=draw.choice(VARIANTS[:4]),
    )


def faults(text: str, program: Program, folder: Path) -> list[str]:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "mixture.toml"
    path.write_text(text, encoding="utf-8")
    ranges = {one["id"]: one for one in program.list("instruments")}
    found = []
    for sheet in program.write(path, folder):
        data = sheet.path.read_bytes()
        found += [f"{sheet.name}: {fault}" for fault in schema.faults(data) + lint.faults(data)]
        horn = ranges[sheet.told["instrument"]][sheet.told["level"]]
        low, high = midi(horn["low"]), midi(horn["high"])
        off = [note["written"] for note in sheet.told["notes"] if not low <= midi(note["written"]) <= high]
        found += [f"{sheet.name}: {', '.join(off[:4])} off the horn"] if off else []
    return found
