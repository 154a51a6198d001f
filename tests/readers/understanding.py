"""How well `lift` understands melodies that nobody here wrote: folk tunes from the corpus that music21 brings along, drawn with a
seed, whole and in phrases of two and four bars. music21 says what the tune sounds, its collector what key it is in.

    python understanding.py BINARY FOLDER [TUNES]

Prints the shares. No tune is kept in the project."""

import random
import re
import subprocess
import sys
import tomllib
import warnings
from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from multiprocessing import Pool
from pathlib import Path

from music21 import converter, corpus, harmony, note, stream

from program import Program
from sheet import midi

# How many tunes are drawn from each collection, of a hundred; the last has chords over its tunes.
COLLECTIONS = {"essenFolksong": 30, "ryansMammoth": 20, "oneills1850": 25, "airdsAirs": 20, "miscFolk": 5, "nottingham-dataset": 2}
SEED = 12
TUNES = 100

# The collectors' words for a key, and the scale they mean.
MODES = {"": "major", "maj": "major", "m": "minor", "min": "minor", "dor": "dorian", "mix": "mixolydian", "lyd": "lydian", "phr": "phrygian"}
# What a musician would call a tune of that mode: the scale, or what has its notes and fewer.
PLAIN = {
    "major": {"major", "major pentatonic"},
    "minor": {"natural minor", "harmonic minor", "melodic minor", "dorian", "minor pentatonic"},
    "dorian": {"dorian", "minor pentatonic"},
    "mixolydian": {"mixolydian", "major pentatonic", "dominant pentatonic"},
    "lydian": {"lydian", "major pentatonic"},
    "phrygian": {"phrygian", "minor pentatonic"},
}
# Degrees that a scale of the mode has whatever is borrowed.
DEGREES = {
    "major": "1 2 3 4 5 6 7",
    "minor": "1 2 b3 4 5",
    "dorian": "1 2 b3 4 5 6 b7",
    "mixolydian": "1 2 3 4 5 6 b7",
    "lydian": "1 2 3 #4 5 6 7",
    "phrygian": "1 b2 b3 4 5 b6 b7",
}
# What at least must hold, in a hundred.
LEAST = {"lifted": 99, "sound": 99, "names": 97, "tonic": 98, "plain": 98, "rooted": 99}


@dataclass
class Tune:
    name: str
    text: str
    tonic: str
    mode: str


@dataclass
class Shares:
    """How many phrases there were, and of how many each thing is true."""

    tried: int = 0
    true: Counter = field(default_factory=Counter)
    faults: list = field(default_factory=list)

    def add(self, other: "Shares") -> None:
        self.tried += other.tried
        self.true += other.true
        self.faults += other.faults

    def share(self, what: str) -> float:
        of = {"lifted": self.tried, "plain": self.true["major"], "rooted": self.true["major"]}.get(what, self.true["lifted"])
        return 100 * self.true[what] / of if of else 100.0


def tunes(count: int = TUNES) -> list[Tune]:
    """So many tunes, the same every time."""
    draw = random.Random(SEED)
    drawn = []
    for collection, share in COLLECTIONS.items():
        every = []
        for path in sorted(map(str, corpus.getCorePaths())):
            if f"/{collection}/" in path.replace("\\", "/") and path.endswith(".abc"):
                every += [tune for tune in split(path) if tune]
        drawn += draw.sample(every, min(len(every), count * share // 100))
    return drawn


def split(path: str) -> list:
    """The tunes of a file whose key and meter are said once."""
    text = Path(path).read_text(encoding="utf-8", errors="replace")
    return [one(f"{Path(path).stem}", part) for part in re.split(r"\n(?=X: *\d)", "\n" + text) if part.strip().startswith("X:")]


def one(name: str, text: str) -> Tune | None:
    keys = re.findall(r"^K: *(.*)$", text, re.M)
    meters = re.findall(r"^M: *(.*)$", text, re.M)
    found = re.match(r"([A-G])([b#]?) *([A-Za-z]*) *(?:%.*)?$", keys[0].strip()) if len(keys) == 1 else None
    mode = MODES.get(found[3].lower()[:3] if found and found[3] != "M" else "") if found else None
    if mode is None or len(meters) != 1 or re.search(r"\[[MK]:", text) or not re.match(r"\d+/\d+$|C\|?$", meters[0].strip()):
        return None
    # Some headers stand twice, which music21 takes amiss.
    number = re.match(r"X: *\d*", text.strip())[0].replace(" ", "")
    return Tune(f"{name} {number}", text.strip() + "\n", found[1] + found[2], mode)


def measure(tune: Tune, program: Program, folder: Path, stated: bool = True) -> dict[str, Shares]:
    """What becomes of a tune: whole, and one phrase of two bars and one of four."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            score = converter.parse(tune.text, format="abc")
            if isinstance(score, stream.Opus):
                score = score.scores[0]
            folder.mkdir(parents=True, exist_ok=True)
            path = Path(score.write("musicxml", folder / "tune.musicxml"))
            # What is written fills bars that the tune leaves short.
            bars = list(converter.parse(path, forceSource=True).parts[0].getElementsByClass(stream.Measure))
            notes = [[one for one in bar.recurse().notesAndRests if not one.duration.isGrace and not isinstance(one, harmony.Harmony)] for bar in bars]
            if len(bars) < 6 or any(not isinstance(one, (note.Note, note.Rest)) for bar in notes for one in bar):
                return {}
        except Exception:
            return {}  # what music21 itself can't read or write is no fault of ours
    if not stated:
        text = path.read_text(encoding="utf-8")
        path.write_text(re.sub(r"<mode>\w+</mode>", "", text), encoding="utf-8")
    draw = random.Random(f"{SEED} {tune.name}")
    shares = {}
    for length in (2, 4, 0):
        numbers = [bar.number for bar in bars]
        start = draw.randrange(1, max(2, len(bars) - length)) if length else 0
        stretch = range(start, start + length) if length else range(len(bars))
        asked = [numbers[at] for at in stretch]
        if numbers.count(asked[0]) > 1 or numbers.count(asked[-1]) > 1:
            continue
        shares["whole" if not length else f"{length} bars"] = lifted(tune, path, program, folder, bars, stretch, asked if length else None)
    return shares


def lifted(tune: Tune, path: Path, program: Program, folder: Path, bars: list, stretch: range, asked: list | None) -> Shares:
    expected = sounding([bars[at] for at in stretch])
    found = Shares()
    if not expected:
        return found
    found.tried = 1
    where = f"{tune.name} in {tune.tonic} {tune.mode}, {f'bars {asked[0]}-{asked[-1]}' if asked else 'whole'}"
    lesson = folder / "lesson.toml"
    lesson.unlink(missing_ok=True)
    command = [program.binary, "lift", str(path), "--out", str(lesson)] + (["--bars", f"{asked[0]}-{asked[-1]}"] if asked else [])
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode != 0:
        said = [line for line in done.stderr.splitlines() if line.startswith("error")]
        found.faults.append(f"not lifted: {where}: {' '.join(said)[:300]}")
        return found
    found.true["lifted"] += 1
    text = lesson.read_text(encoding="utf-8")
    told = tomllib.loads(text)
    root, scale = told["keys"]["from"], scale_of(told)
    name = scale.get("name") or scale.get("degrees") or "note for note"
    right = fits(scale, tune.mode)
    of_tonic = root == tune.tonic
    found.true["tonic"] += of_tonic and right
    if tune.mode == "major":
        found.true["major"] += 1
        found.true["plain"] += right
        found.true["rooted"] += of_tonic
    if not (of_tonic and right):
        found.faults.append(f"tonic: {where}: {root} {name}")
    try:
        sheets = program.write(lesson, folder / "out", "--key", root)
    except RuntimeError as error:
        found.faults.append(f"not written: {where}: {str(error)[-300:]}")
        return found
    played = first_exercise(sheets[0].told, len(expected))
    alike, octave = same_sound(expected, played)
    found.true["sound"] += alike
    if not alike:
        found.faults.append(f"sound: {where}: {show(expected)} != {show(played)}")
        return found
    named = [without_octave(pitch) for _, _, pitch in expected] == [without_octave(pitch) for _, _, pitch in played]
    found.true["names"] += named
    found.true["octave"] += octave == 0
    found.true["both"] += named and octave == 0
    if not named:
        wrong = [(theirs, ours) for (_, _, theirs), (_, _, ours) in zip(expected, played) if without_octave(theirs) != without_octave(ours)]
        found.faults.append(f"names: {where} on {root} {name}: {wrong[:4]}")
    if octave:
        found.faults.append(f"octave: {where}: {octave}")
    return found


def scale_of(told: dict) -> dict:
    """The scale that a phrase stands on; one that moves note for note stands on none, but in major or in minor."""
    if told["figure"].get("literal"):
        return {"third": "b3" if "key" in told["figure"] else "3"}
    return told["scale"]


def fits(scale: dict, mode: str) -> bool:
    if "third" in scale:
        return scale["third"] in DEGREES[mode].split()
    if "name" in scale:
        return scale["name"].lower() in PLAIN[mode]
    return set(DEGREES[mode].split()) <= set(scale["degrees"].split())


def sounding(bars: list) -> list:
    """(onset, length, pitch) of some bars, ties joined within them, from the first one's start."""
    rows, at = [], Fraction(0)
    for bar in bars:
        for one in bar.recurse().notes:
            if one.duration.isGrace or isinstance(one, harmony.Harmony):
                continue
            onset, length = at + Fraction(one.getOffsetInHierarchy(bar)), Fraction(one.quarterLength)
            pitch = one.pitch.nameWithOctave.replace("-", "b")
            tied = one.tie is not None and one.tie.type in ("stop", "continue")
            if tied and rows and rows[-1][2] == pitch and rows[-1][0] + rows[-1][1] == onset:
                rows[-1] = (rows[-1][0], rows[-1][1] + length, pitch)
            else:
                rows.append((onset, length, pitch))
        at += Fraction(bar.duration.quarterLength)
    return rows


def first_exercise(told: dict, count: int) -> list:
    """What the figure alone plays: the first exercise's notes."""
    return [(Fraction(one["onset"]), Fraction(one["length"]), one["sounding"]) for one in told["notes"][:count]]


def same_sound(expected: list, played: list) -> tuple[bool, int]:
    """Whether two lines sound alike wherever they begin and in whatever octave; how many octaves apart they are."""
    if len(expected) != len(played):
        return False, 0
    late, apart = played[0][0] - expected[0][0], midi(played[0][2]) - midi(expected[0][2])
    alike = all(b[0] - a[0] == late and a[1] == b[1] and midi(b[2]) - midi(a[2]) == apart for a, b in zip(expected, played))
    return alike and apart % 12 == 0, apart // 12


def without_octave(pitch: str) -> str:
    return pitch.rstrip("0123456789-")


def show(rows: list) -> str:
    return " ".join(f"{onset}+{length}{pitch}" for onset, length, pitch in rows[:8])


def faults(results: list[dict]) -> list[str]:
    """What is understood less well than it must be."""
    found = []
    for kind, one in shares(results).items():
        if one.tried < len(results) * 3 // 4:
            found.append(f"{kind}: only {one.tried} of {len(results)} tunes could be tried")
        for what, least in LEAST.items():
            if kind != "whole" and one.share(what) < least:
                found.append(f"{kind}: {what} {one.share(what):.1f} of a hundred, not {least}")
                found += [fault for fault in one.faults if not fault.startswith("octave")][:8]
    return found


def shares(found: list[dict]) -> dict[str, Shares]:
    whole = {}
    for of_tune in found:
        for kind, one in of_tune.items():
            whole.setdefault(kind, Shares()).add(one)
    return whole


def main() -> None:
    program, folder, count = Program(Path(sys.argv[1])), Path(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else TUNES
    drawn = tunes(count)
    print(len(drawn), "tunes:", dict(Counter(tune.mode for tune in drawn)))
    for stated in (True, False):
        with Pool() as pool:
            tasks = [partial(measure, tune, program, folder / str(place), stated) for place, tune in enumerate(drawn)]
            results = pool.map(call, tasks, chunksize=4)
        print("mode stated" if stated else "mode not stated")
        for kind, one in sorted(shares(results).items()):
            said = "  ".join(f"{what} {one.share(what):.1f}" for what in ("lifted", "sound", "names", "octave", "both", "tonic", "plain", "rooted"))
            print(f"  {kind:7} of {one.tried}: {said}")
            for fault in one.faults:
                print(f"    {kind} {'stated' if stated else 'unstated'} {fault}", file=sys.stderr)


def call(task: partial):
    return task()


if __name__ == "__main__":
    main()
