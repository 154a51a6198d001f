"""Lines over changes as music21 reads them, held against `check --explain`, the tables and the forms below, which were
worked out by hand from the lessons' bars: every note belongs to the scale named for its chord or is an ornament a half
step from what it leads to, is sounded while that chord is, and lies in the horn's range; statements begin in the bars
that are said; joins are as wide, and statements and joins cost as much, as is said; and chords stand where the bars put
them, chorus by chorus, in every horn's key."""

import csv
import re
from bisect import bisect_left
from copy import deepcopy
from fractions import Fraction
from pathlib import Path
from typing import Callable, NamedTuple

import by_music21
from program import Program, Written
from sheet import midi

FIXTURES = Path(__file__).parents[2] / "fixtures"


class Line(NamedTuple):
    """An exercise: how often it goes through the form, and what its line is weighed by."""

    choruses: int = 1
    guides: bool = False
    early: bool = False
    smooth: int = 4
    variety: int = 2
    range: int = 2
    strong_beats: int = 3


class Form(NamedTuple):
    """A lesson's form: its bars in quarters, and its chords as quarters from the first bar line and semitones above the
    key."""

    bars: list[int]
    chords: str
    lines: list[Line]
    pickup: int = 0


FORMS = {
    "coal-barge-blues": Form(
        12 * [4],
        "0:0 4:5 8:0 12:7 14.5:0 16:5 24:0 28:9 32:2 36:7 40:0 42:9 44:2 46:7",
        [Line(3, early=True), Line(guides=True), Line(guides=True)],
    ),
    "seven-locks": Form(
        24 * [4],
        "0:2 4:7 8:0 16:0 20:5 24:10 32:10 36:3 40:8 48:8 52:1 56:6 64:6 68:11 72:4 80:4 84:9 88:2 92:2 94:7",
        [Line(smooth=5, variety=3), Line(guides=True)],
    ),
    "winter-quay": Form(
        16 * [4],
        "0:2 4:7 8:0 16:2 20:7 24:0 32:7 36:0 40:5 48:2 52:7 56:0 62:7",
        [Line(3), Line(guides=True)],
    ),
    "mill-stairs": Form(
        16 * [4],
        "0:0 2:9 4:2 6:7 8:4 10:9 12:2 14:7 16:7 18:0 20:5 22:10 24:4 26:9 28:2 30:7 "
        "32:0 34:9 36:2 38:7 40:4 42:9 44:2 46:7 48:7 50:0 52:5 54:10 56:2 58:7 60:0 63:-",
        [Line()],
    ),
    "ferry-bell-waltz": Form(
        16 * [3],
        "-1:7 0:0 3:2 5:7 6:4 9:9 12:2 15:7 18:0 20.5:9 21:2 23:7 24:0 27:2 29:7 30:4 33:9 36:2 39:7 42:0",
        [Line(early=True), Line(guides=True)],
        pickup=1,
    ),
    "crooked-pier": Form(
        8 * [5],
        "0:0 5:5 10:0 13:5 15:10 20:8 23:7 25:0 30:2 33:7 35:0",
        [Line(3), Line(guides=True)],
    ),
    "tide-gate": Form(
        [4, 4, 3, 3, 4, 5, 4, 4],
        "0:2 4:7 8:0 11:9 14:2 17:7 18:4 21:9 23:2 25:7 27:0",
        [Line(3, early=True), Line(guides=True)],
    ),
}
# Strong beats of a bar of so many quarters; that of five is in three and two.
STRONG = {3: (0,), 4: (0, 2), 5: (0, 3)}
# Why the first chorus of each lesson's first exercise takes its scales, bar by bar.
BECAUSE = {
    "winter-quay": "said for chords of this kind, goes down a fifth to minor, usual, usual, said for chords of this kind, goes "
    "down a fifth to minor, usual, usual, said for chords of this kind, goes down a fifth to minor, usual, usual, said for "
    "chords of this kind, said for this bar, usual, usual, usual",
    "crooked-pier": "usual, usual, usual, usual, usual, goes down a fifth to minor, usual, usual, goes down a fifth to minor",
}
NATURAL = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


class Note(NamedTuple):
    onset: Fraction
    end: Fraction
    pitch: int
    ornament: bool


class Seen(NamedTuple):
    """An exercise as it is read and as it is explained."""

    form: Form
    line: Line
    zero: Fraction  # its first bar line
    reach: tuple[int, int]
    statements: list[list[Note]]
    rows: list[dict]
    chords: list[tuple]  # (onset, pitch class of the root)


def faults(lesson: str, program: Program, folder: Path) -> list[str]:
    found, total = [], 0
    for sheet, form, lines, chords, first in read(lesson, program, folder):
        found += [f"{sheet.name}: {fault}" for fault in misplaced(form, first, chords, pitch_class(sheet.told["concert_key"]), sheet)]
        for seen in lines:
            found += [f"{sheet.name}: {fault}" for fault in unlike(seen)]
            total += len(seen.rows)
        if lesson in BECAUSE:
            reasons = BECAUSE[lesson].split(", ")
            said = [row["because"] for row in lines[0].rows[: len(reasons)]]
            found += [] if said == reasons else [f"{sheet.name}: because {said}"]
    return found if total else ["nothing was explained"]


def unseen(spoil: str, program: Program, folder: Path) -> list[str]:
    """A test of the tests: a line or its explanation spoiled in one place must be caught."""
    _, _, lines, _, _ = next(read("coal-barge-blues", program, folder))
    target = 2 if "ornament" in spoil else 0
    whole = unlike(lines[target])
    spoiled = deepcopy(lines[target])
    SPOILS[spoil](spoiled)
    return whole if whole else [] if unlike(spoiled) else [f"{spoil} wasn't caught"]


def read(lesson: str, program: Program, folder: Path):
    """Each sheet of a lesson with its exercises."""
    path, form = FIXTURES / "lessons" / f"{lesson}.toml", FORMS[lesson]
    written = program.write(path, folder)
    blocks = explained(program.run(["check", "--explain", str(path)], allowed=(0, 3)))
    for sheet in written:
        music = by_music21.read(str(sheet.path))
        first = min(Fraction(bar["onset"]) for bar in sheet.told["measures"] if not bar["pickup"])
        chords = [(onset, None if kind == "none" else pitch_class(root)) for onset, root, kind, *_ in music.chords]
        lines, zero = [], first
        for number, line in enumerate(form.lines):
            statements: dict[int, list] = {}
            for note, (onset, length, pitch) in zip(sheet.told["notes"], music.notes):
                if note["exercise"] == number:
                    one = Note(onset, onset + length, midi(pitch), note["ornament"])
                    statements.setdefault(note["statement"], []).append(one)
            lines.append(Seen(form, line, zero, reach(sheet), list(statements.values()), blocks.pop(0), chords))
            zero += sum(form.bars) * line.choruses + form.pickup
        yield sheet, form, lines, chords, first
    if blocks:
        raise ValueError(f"{len(blocks)} explanations too many")


def misplaced(form: Form, first: Fraction, chords: list, key: int, sheet: Written) -> list[str]:
    """Chord symbols that don't stand where they should; by sounding root against the key."""
    by = sheet.told["transposition"] or {"chromatic": 0}
    wanted, zero = [], first
    for line in form.lines:
        for chorus in range(line.choruses):
            for word in form.chords.split():
                at, root = word.rsplit(":", 1)
                if Fraction(at) >= 0 or chorus == 0:
                    sounding = None if root == "-" else (int(root) + key) % 12
                    wanted.append((zero + Fraction(at), sounding))
            zero += sum(form.bars)
        zero += form.pickup
    placed = [(at, None if root is None else (root + by["chromatic"]) % 12) for at, root in chords]
    wrong = [(told, should) for told, should in zip(placed, wanted) if told != should]
    count = [f"{len(placed)} chords, not {len(wanted)}"] if len(placed) != len(wanted) else []
    return count + [f"chord {told}, not {should}" for told, should in wrong[:4]]


def unlike(seen: Seen) -> list[str]:
    """What of a line is not as it should be, or not as it is explained."""
    if len(seen.statements) != len(seen.rows):
        return [f"{len(seen.statements)} statements, {len(seen.rows)} explained"]
    scales, tones = table("scales"), {row["suffix"]: row["semitones"] for row in rows("chords")}
    varies = len({row["variant"] for row in seen.rows}) > 1
    found, before = [], None
    for row, notes in zip(seen.rows, seen.statements):
        where = f"bar {row['bar']}, {row['chord']}"
        root, suffix = re.match(r"([A-G][b#]*)(.*)", row["chord"]).groups()
        root, suffix = pitch_class(root), suffix if suffix in tones else suffix.split("/")[0]
        chord = {int(up) % 12 for up in tones[suffix].split()}
        scale = {int(up) % 12 for up in scales[row["scale"].lower().replace(" ", "-")].split()}
        strangers = 0
        for place, note in enumerate(notes):
            up = (note.pitch - root) % 12
            target = next((one.pitch for one in notes[place:] if not one.ornament), None)
            if note.ornament and (target is None or abs(note.pitch - target) != 1):
                found.append(f"{where}: an ornament on {note.pitch} leads to {target}")
            if not note.ornament and up not in scale:
                found.append(f"{where}: {note.pitch} is not in {row['scale']}")
            if not note.ornament and in_force(seen.chords, note.end) != root:
                found.append(f"{where}: {note.pitch} is played over another chord")
            if not seen.reach[0] <= note.pitch <= seen.reach[1]:
                found.append(f"{where}: {note.pitch} is out of range")
            strangers += up not in chord and is_strong(seen, note, place == 0)
        opens = next(place for place, note in enumerate(notes) if not note.ornament)
        bar, _ = in_bar(seen, nominal(seen, notes[opens], opens == 0))
        if str(bar) != row["bar"]:
            found.append(f"{where}: begins in bar {bar}")
        low, high = (end([note.pitch for note in notes]) for end in (min, max))
        own = 2 * seen.line.strong_beats * strangers + seen.line.range * (outside(seen, low) + outside(seen, high))
        cost = [own] if before is None else [own, join(seen, before, (row, notes), varies)]
        if cost != row["cost"]:
            found.append(f"{where}: costs {cost}, said {row['cost']}")
        if before is not None and notes[0].pitch - before[1][-1].pitch != row["join"]:
            found.append(f"{where}: joins by {notes[0].pitch - before[1][-1].pitch}, said {row['join']}")
        before = (row, notes)
    return found


def join(seen: Seen, before: tuple, after: tuple, varies: bool) -> int:
    """What a join costs, by the words of `crates/etude/RULES.md`."""
    left, reached = before[1][-1].pitch, after[1][0].pitch
    interval = abs(left - reached)
    smooth = interval if seen.line.guides else {0: 2, 1: 0, 2: 0, 3: 1, 4: 1, 5: 3, 6: 3, 7: 3}.get(interval, interval - 4)
    again = (varies and before[0]["variant"] == after[0]["variant"]) + (not seen.line.guides and before[0]["start"] == after[0]["start"])
    further = outside(seen, left) > 0 and outside(seen, reached) > outside(seen, left)
    return seen.line.smooth * smooth + seen.line.variety * again + 2 * seen.line.range * further


def outside(seen: Seen, pitch: int) -> int:
    """Half steps outside of the middle of the range, a sixth being left out on both sides."""
    low, high = seen.reach
    edge = (high - low) // 6
    return max(low + edge - pitch, pitch - high + edge, 0)


def nominal(seen: Seen, note: Note, first: bool) -> Fraction:
    """Where a note would begin if its chord were not taken early."""
    later = note.onset + Fraction(1, 2)
    early = seen.line.early and first and note.end > later and in_bar(seen, later)[1] == 0
    return later if early else note.onset


def is_strong(seen: Seen, note: Note, first: bool) -> bool:
    bar, within = in_bar(seen, nominal(seen, note, first))
    return within in STRONG[seen.form.bars[(bar - 1) % len(seen.form.bars)]]


def in_bar(seen: Seen, time: Fraction) -> tuple[int, Fraction]:
    """The bar of a time, from 1, and the quarters from its bar line."""
    bars = seen.form.bars
    choruses, rest = divmod(time - seen.zero, sum(bars))
    bar = choruses * len(bars)
    if choruses < 0:
        # A pickup comes before the first bar.
        return 0, bars[0] + time - seen.zero
    for place, length in enumerate(bars):
        if rest < length:
            return bar + place + 1, rest
        rest -= length
    raise ValueError(time)


def in_force(chords: list, end: Fraction) -> int | None:
    """The root of the chord that is on when a note ends."""
    place = bisect_left([onset for onset, _ in chords], end)
    return chords[place - 1][1] if place else None


def reach(sheet: Written) -> tuple[int, int]:
    [row] = [row for row in rows("instruments") if row["id"] == sheet.told["instrument"]]
    level = sheet.told["level"]
    return midi(row[f"{level}_low"]), midi(row[f"{level}_high"])


def change(place: int, **changed) -> Callable[[Seen], None]:
    """Spoils what is said of a statement."""
    return lambda seen: seen.rows[place].update(changed)


def move(statement: int, place: int, **by) -> Callable[[Seen], None]:
    """Spoils a note."""

    def spoil(seen: Seen) -> None:
        note = seen.statements[statement][place]
        seen.statements[statement][place] = note._replace(**{key: getattr(note, key) + up for key, up in by.items()})

    return spoil


# What is spoiled, and how.
SPOILS = {
    "a note of another scale": move(1, 1, pitch=1),
    "a note off the horn": move(1, 1, pitch=48),
    "a join": change(3, join=5),
    "what a join costs": change(3, cost=[0, 3]),
    "what a statement costs": change(3, cost=[6, 0]),
    "a statement's bar": change(2, bar="4"),
    "a chord's scale": change(1, scale="Altered"),
    "a statement over another chord": move(1, 1, onset=8, end=8),
    "an ornament a whole step away": move(1, 0, pitch=-1),
    "a statement left out": lambda seen: seen.rows.pop(),
    "a chord that comes late": lambda seen: seen.chords.__setitem__(1, (seen.chords[1][0] + 4, seen.chords[1][1])),
}


def explained(text: str) -> list[list[dict]]:
    """The rows of each explained line, in order."""
    blocks: list[list[dict]] = []
    inside = False
    for words in text.splitlines():
        cells = re.split(r"\s{2,}", words.strip())
        if cells[0] == "bar" and "chorus" in cells:
            blocks.append([])
            inside = True
        elif inside and len(cells) == 9:
            keys = ("bar", "chorus", "chord", "scale", "because", "start", "variant")
            row = dict(zip(keys, cells))
            blocks[-1].append(row | {"join": semitones(cells[7]), "cost": [int(part) for part in cells[8].split(" + ")]})
        else:
            inside = False
    return blocks


def semitones(join: str) -> int | None:
    if join in ("begins", "same note"):
        return 0
    count = re.match(r"\d+", join)
    return (int(count.group()) if count else 1) * (1 if join.endswith("up") else -1)


def rows(name: str) -> list[dict]:
    with open(FIXTURES / "tables" / f"{name}.csv", encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def table(name: str) -> dict:
    """Semitones of each row of a table by its id."""
    return {row["id"]: row["semitones"] for row in rows(name)}


def pitch_class(name: str) -> int:
    return (NATURAL[name[0]] + name.count("#") - name[1:].count("b") - name[1:].count("-")) % 12
