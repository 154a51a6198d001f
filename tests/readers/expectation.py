"""What plain lessons must say, worked out here from the figure alone: scale steps by counting, rhythm by adding eighths,
the octave by the range. The figure 1 2 3 5 on each degree, flipped and reversed, is the textbook case of sequence,
inversion and retrograde (Harvard Dictionary of Music, s.v.; from memory)."""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import by_music21
from program import Program
from sheet import midi

LETTERS = "CDEFGAB"
MAJOR = [0, 2, 4, 5, 7, 9, 11]
SPOKEN = ["1", "&", "2", "&", "3", "&", "4", "&"]


@dataclass
class Case:
    """A lesson and the figure in it: rungs against the statement's root, eighths against its bar line."""

    name: str
    lesson: str
    rungs: list  # up
    falling: list  # coming down
    eighths: list  # where each note starts; negative before the bar line
    silent: list  # eighths that are silent
    pickup: int = 0  # eighths


def cases() -> list[Case]:
    """The textbook figure in its three ways down; begun on every eighth of the bar, an off-beat figure and one whose
    notes are held over the beat and the bar line, with a rest after them or up to the next pickup."""
    quarters = [0, 2, 4, 6]
    ways = {"flipped": [0, -1, -2, -4], "reversed": [4, 2, 1, 0], "as it is": [0, 1, 2, 4]}
    textbook = [
        Case(f"1 2 3 5, {way}", lesson('degrees = "1 2 3 5"', "1 2 3 4", way), [0, 1, 2, 4], falling, quarters, [])
        for way, falling in ways.items()
    ]
    over_the_beat = [held(start, lengths) for start in range(8) for lengths in ([3, 1, 2], [3, 1, 4])]
    return textbook + [off_beat(start) for start in range(8)] + over_the_beat


def off_beat(start: int) -> Case:
    """Two notes up, a rest, the second note again: four eighths from any eighth of the bar."""
    words = SPOKEN + ["|", "1", "&", "2", "&"]
    places = [start + step + (start + step >= 8) for step in range(4)]
    count = []
    for place in range(places[0], places[-1] + 1):
        count.append(f"({words[place]})" if place == places[2] else words[place])
    crosses = start + 3 >= 8
    shift = 8 if crosses else 0
    sounding = [start - shift, start + 1 - shift, start + 3 - shift]
    moves = 'moves = "start, step up, rest, repeat"'
    text = lesson(moves, " ".join(count), "flipped")
    return Case(f"off the beat from eighth {start}", text, [0, 1, 1], [0, -1, -1], sounding, [start + 2 - shift], shift and 8 - start)


def held(start: int, lengths: list) -> Case:
    """Two notes up and the first again, each held through the numbers it lasts over, then a rest (none after a whole bar)."""
    *places, end = [start + sum(lengths[:note]) for note in range(4)]
    rest = end if sum(lengths) < 8 or start else None
    count = []
    for place in range(start, end + (rest is not None)):
        if place == 8:
            count.append("|")
        word = SPOKEN[place % 8]
        if place in places:
            count.append(word)
        elif place == rest:
            count.append(f"({word})")
        elif word != "&":
            count.append(f"-{word}")
    shift = 8 if "|" in count else 0
    moves = 'moves = "start, step up, step down"'
    text = lesson(moves, " ".join(count), "flipped")
    silent = [] if rest is None else [rest - shift]
    eighths = [place - shift for place in places]
    return Case(f"held from eighth {start}, {lengths}", text, [0, 1, 0], [0, -1, 0], eighths, silent, shift and 8 - start)


def lesson(moves: str, count: str, way: str) -> str:
    return f"""
title = "Worked by Hand"
instruments = ["flute"]
[keys]
only = ["C"]
[scale]
name = "major"
[figure]
meter = "4/4"
{moves}
count = "{count}"
[[exercise]]
kind = "sequence"
coming_down = "{way}"
"""


def faults(case: Case, program: Program, folder: Path) -> list[str]:
    """Where the sheet, as music21 reads it, isn't what the case says."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "by-hand.toml"
    path.write_text(case.lesson, encoding="utf-8")
    [written] = program.write(path, folder)
    [flute] = [one for one in program.list("instruments") if one["id"] == "flute"]
    expected = expect(case, flute["intermediate"]["low"], flute["intermediate"]["high"])
    read = [(onset, length, pitch) for onset, length, pitch in by_music21.read(str(written.path)).notes]
    if len(read) != len(expected):
        return [f"{len(expected)} notes expected, {len(read)} read"]
    return [f"note {place}: expected {one}, read {other}" for place, (one, other) in enumerate(zip(expected, read)) if one != other]


def expect(case: Case, low: str, high: str) -> list[tuple]:
    """Eight statements up, eight down, a closing root; the octave nearest the middle of the range, the lower of two."""
    size = len(MAJOR)
    rungs, onsets, lengths = [], [], []
    counts = sorted([(at, True) for at in case.eighths] + [(at, False) for at in case.silent])
    ends = [at for at, _ in counts[1:]] + [8 - case.pickup]
    for statement in range(2 * (size + 1)):
        rising = statement <= size
        root = statement if rising else 2 * size + 1 - statement
        cell = iter(case.rungs if rising else case.falling)
        last = statement == 2 * size + 1
        for (at, sounds), end in zip(counts, ends):
            if sounds:
                fills = last and end == 8 - case.pickup and end not in case.silent
                rungs.append(root + next(cell))
                onsets.append(8 * statement + at + case.pickup)
                lengths.append((8 if fills else end) - at)
    rungs.append(0)
    onsets.append(8 * 2 * (size + 1) + case.pickup)
    lengths.append(8)
    octave = best_octave(rungs, low, high)
    return [
        (Fraction(onset, 2), Fraction(length, 2), name(rung + 7 * octave))
        for rung, onset, length in zip(rungs, onsets, lengths)
    ]


def best_octave(rungs: list, low: str, high: str) -> int:
    fitting = []
    for octave in range(9):
        bottom, top = number(min(rungs) + 7 * octave), number(max(rungs) + 7 * octave)
        if midi(low) <= bottom and top <= midi(high):
            fitting.append((abs(bottom + top - midi(low) - midi(high)), octave))
    return min(fitting)[1]


def name(step: int) -> str:
    return f"{LETTERS[step % 7]}{step // 7}"


def number(step: int) -> int:
    return 12 + 12 * (step // 7) + MAJOR[step % 7]

