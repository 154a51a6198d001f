"""What a sheet says, in one shape for the program's own word and for every reader's. Times are exact quarters."""

import re
from dataclasses import dataclass, field
from fractions import Fraction

NATURAL = [0, 2, 4, 5, 7, 9, 11]


@dataclass
class Sheet:
    """A part: rows of tuples, each in the order of the sheet. None: the reader doesn't carry it."""

    notes: list | None = field(default_factory=list)  # (onset, length, written), ties joined
    sounding: list | None = None  # (onset, sounding pitch), spelled
    heard: list | None = field(default_factory=list)  # (onset, MIDI number)
    signatures: list = field(default_factory=list)  # (onset, fifths)
    meters: list = field(default_factory=list)  # (onset, "4/4")
    chords: list | None = field(default_factory=list)  # (onset, root, kind or None, degrees or None, bass)
    labels: list | None = field(default_factory=list)  # (onset, row from 1, text)
    letters: list | None = None  # (onset, rehearsal letter)
    tempos: list | None = None  # (onset, quarters a minute)
    measures: list | None = None  # (onset, number)
    slashes: list | None = field(default_factory=list)  # (onset, length), ties joined
    marks: list | None = None  # (onset, sign) of articulations and slurs, in the standard's words
    transposition: tuple = (0, 0)  # (diatonic or None, chromatic), octaves in both

    @classmethod
    def told(cls, json: dict) -> "Sheet":
        """What the program says it put on the sheet."""
        sheet = cls(sounding=[], letters=[], tempos=[], measures=[], marks=[])
        for note in json["notes"]:
            onset = Fraction(note["onset"])
            sheet.notes.append((onset, Fraction(note["length"]), note["written"]))
            sheet.sounding.append((onset, note["sounding"]))
            sheet.heard.append((onset, midi(note["sounding"])))
            rows = enumerate(note["labels"], start=1)
            sheet.labels += [(onset, row, text) for row, text in rows if text is not None]
            sheet.marks += [(onset, sign) for sign in note["marks"]]
        for slash in json["slashes"]:
            onset = Fraction(slash["onset"])
            sheet.slashes.append((onset, Fraction(slash["length"])))
            rows = enumerate(slash["labels"], start=1)
            sheet.labels += [(onset, row, text) for row, text in rows if text is not None]
        sheet.labels.sort(key=lambda label: label[:2])
        sheet.marks.sort()
        for bar in json["measures"]:
            onset = Fraction(bar["onset"])
            sheet.measures.append((onset, bar["number"]))
            if "signature" in bar:
                sheet.signatures.append((onset, bar["signature"]))
            if "meter" in bar:
                sheet.meters.append((onset, bar["meter"]))
        for chord in json["chords"]:
            degrees = tuple(sorted(chord["degrees"]))
            sheet.chords.append((Fraction(chord["onset"]), chord["root"], chord["kind"], degrees, chord["bass"]))
        for said in json["directions"]:
            onset = Fraction(said["onset"])
            if "letter" in said:
                sheet.letters.append((onset, said["letter"]))
            if "tempo" in said:
                sheet.tempos.append((onset, Fraction(said["tempo"])))
        by = json["transposition"] or {"diatonic": 0, "chromatic": 0, "octave_change": 0}
        octaves = by["octave_change"]
        sheet.transposition = (by["diatonic"] + 7 * octaves, by["chromatic"] + 12 * octaves)
        return sheet

    def differences(self, read: "Sheet", most: int = 4) -> list[str]:
        """Where a reader's word differs from this one, the first few of each kind."""
        found = []
        for kind in ("notes", "sounding", "heard", "signatures", "meters", "labels", "letters", "tempos", "measures", "slashes", "marks"):
            ours, theirs = getattr(self, kind), getattr(read, kind)
            if theirs is not None:
                found += unlike(kind, ours, theirs)[:most]
        if read.chords is not None:
            found += unlike("chords", *alike_chords(self.chords, read.chords))[:most]
        if any(theirs not in (None, ours) for ours, theirs in zip(self.transposition, read.transposition)):
            found.append(f"transposition: told {self.transposition}, read {read.transposition}")
        return found


def alike_chords(ours: list, theirs: list) -> tuple[list, list]:
    """Our chords, less what the reader doesn't carry."""
    if len(ours) != len(theirs):
        return ours, theirs
    carried = [tuple(a if b is not None else None for a, b in zip(one, other)) for one, other in zip(ours, theirs)]
    # A missing bass is a reading of its own, not something left unread.
    return [chord[:4] + one[4:] for chord, one in zip(carried, ours)], theirs


def unlike(kind: str, ours: list, theirs: list) -> list[str]:
    found = [f"{kind} {place}: told {show(one)}, read {show(other)}" for place, (one, other) in enumerate(zip(ours, theirs)) if one != other]
    if len(ours) != len(theirs):
        found.insert(0, f"{kind}: told {len(ours)}, read {len(theirs)}")
    return found


def show(row: tuple) -> str:
    return " ".join(str(cell) for cell in row)


def midi(pitch: str) -> int:
    """MIDI number of a pitch as it is printed, C4 = 60 (MIDI 1.0 specification)."""
    letter, signs, octave = pitch[0], pitch[1:].rstrip("0123456789-"), re.search(r"-?\d+$", pitch)[0]
    return 12 + 12 * int(octave) + NATURAL["CDEFGAB".index(letter)] + signs.count("#") - signs.count("b")


def join_ties(pieces: list) -> list:
    """(onset, length, pitch, tied on) in order → (onset, length, pitch) with tied ones joined."""
    joined = []
    held = False
    for onset, length, pitch, tied_on in pieces:
        if held and joined and joined[-1][2] == pitch and joined[-1][0] + joined[-1][1] == onset:
            joined[-1] = (joined[-1][0], joined[-1][1] + length, pitch)
        else:
            joined.append((onset, length, pitch))
        held = tied_on
    return joined
