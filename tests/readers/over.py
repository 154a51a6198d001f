"""Lines over changes as music21 reads them, held against `check --explain` and the scale table: every note belongs to
the scale named for its chord or is an ornament, joins are as wide as it says, and chords stand where the lesson's own
bars put them, worked out here by hand, in every horn's key."""

import csv
import re
from fractions import Fraction
from pathlib import Path

import by_music21
from program import Program, Written
from sheet import midi

FIXTURES = Path(__file__).parents[2] / "fixtures"

# (quarters from the first bar line, semitones above the key) of the first chorus; bars counted by hand.
CHORDS = {
    "coal-barge-blues": "0:0 4:5 8:0 12:7 14.5:0 16:5 24:0 28:9 32:2 36:7 40:0 42:9 44:2 46:7",
    "seven-locks": "0:2 4:7 8:0 16:0 20:5 24:10 32:10 36:3 40:8 48:8 52:1 56:6 64:6 68:11 72:4 80:4 84:9 88:2 92:2 94:7",
    "winter-quay": "0:2 4:7 8:0 16:2 20:7 24:0 32:7 36:0 40:5 48:2 52:7 56:0 62:7",
    "mill-stairs": "0:0 2:9 4:2 6:7 8:4 10:9 12:2 14:7 16:7 18:0 20:5 22:10 24:4 26:9 28:2 30:7 "
    "32:0 34:9 36:2 38:7 40:4 42:9 44:2 46:7 48:7 50:0 52:5 54:10 56:2 58:7 60:0 63:-",
    "ferry-bell-waltz": "-1:7 0:0 3:2 5:7 6:4 9:9 12:2 15:7 18:0 20.5:9 21:2 23:7 "
    "24:0 27:2 29:7 30:4 33:9 36:2 39:7 42:0",
    "crooked-pier": "0:0 5:5 10:0 13:5 15:10 20:8 23:7 25:0 30:2 33:7 35:0",
}
NATURAL = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
KEYS = {"coal-barge-blues": 0, "seven-locks": 0, "winter-quay": 0, "mill-stairs": 10, "ferry-bell-waltz": 7, "crooked-pier": 5}


def faults(lesson: str, program: Program, folder: Path) -> list[str]:
    path = FIXTURES / "lessons" / f"{lesson}.toml"
    written = program.write(path, folder)
    blocks = explained(program.run(["check", "--explain", str(path)], allowed=(0, 3)))
    scales = table()
    found = []
    for sheet in written:
        read = by_music21.read(str(sheet.path))
        found += misplaced(sheet, read, CHORDS[lesson], KEYS[lesson])
        exercises = 1 + max(note["exercise"] for note in sheet.told["notes"])
        for exercise in range(exercises):
            found += [f"{sheet.name}: {fault}" for fault in line(sheet, read, exercise, blocks.pop(0), scales)]
    return found + ([f"{len(blocks)} explanations too many"] if blocks else [])


def misplaced(sheet: Written, read, expected: str, key: int) -> list[str]:
    """Chord symbols of the first exercise that don't stand where they should; by sounding root against the key."""
    by = sheet.told["transposition"] or {"chromatic": 0}
    concert = pitch_class(sheet.told["concert_key"])
    wanted = []
    for word in expected.split():
        at, root = word.rsplit(":", 1)
        wanted.append((Fraction(at), None if root == "-" else (int(root) + concert) % 12))
    early = min(Fraction(bar["onset"]) for bar in sheet.told["measures"] if not bar["pickup"])
    placed = [(onset - early, root and (pitch_class(root) + by["chromatic"]) % 12) for onset, root, kind, *_ in read.chords]
    placed = [(at, None if kind[2] == "none" else root) for (at, root), kind in zip(placed, read.chords)]
    first = placed[: len(wanted)]
    return [] if first == wanted else [f"{sheet.name}: chords at {first}, not {wanted}"]


def line(sheet: Written, read, exercise: int, rows: list[dict], scales: dict) -> list[str]:
    """Notes outside the scale that is named for them, and joins that are not what is said."""
    told = sheet.told["notes"]
    pairs = [(note, pitch) for note, (_, _, pitch) in zip(told, read.notes) if note["exercise"] == exercise]
    statements: dict[int, list] = {}
    for note, pitch in pairs:
        statements.setdefault(note["statement"], []).append((note, pitch))
    if len(statements) != len(rows):
        return [f"{len(statements)} statements, {len(rows)} explained"]
    found, before = [], None
    for row, notes in zip(rows, statements.values()):
        root = pitch_class(re.match(r"[A-G][b#]*", row["chord"]).group())
        scale = {(root + up) % 12 for up in scales[row["scale"].lower().replace(" ", "-")]}
        for note, pitch in notes:
            if not note["ornament"] and midi(pitch) % 12 not in scale:
                found.append(f"bar {row['bar']}: {pitch} is not in {row['scale']} on {row['chord']}")
        first = midi(notes[0][1])
        if before is not None and first - before != row["join"]:
            found.append(f"bar {row['bar']}: joins by {first - before}, said {row['join']}")
        before = midi(notes[-1][1])
    return found


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
            blocks[-1].append({"bar": cells[0], "chord": cells[2], "scale": cells[3], "join": semitones(cells[7])})
        else:
            inside = False
    return blocks


def semitones(join: str) -> int | None:
    if join in ("begins", "same note"):
        return 0
    count = re.match(r"\d+", join)
    return (int(count.group()) if count else 1) * (1 if join.endswith("up") else -1)


def table() -> dict:
    """Semitones of each scale of the table by its id."""
    with open(FIXTURES / "tables" / "scales.csv", encoding="utf-8", newline="") as rows:
        return {row["id"]: [int(up) for up in row["semitones"].split()] for row in csv.DictReader(rows)}


def pitch_class(name: str) -> int:
    return (NATURAL[name[0]] + name.count("#") - name[1:].count("b") - name[1:].count("-")) % 12
