"""Kills runs at random moments, over all formats, on folders with edits, and sees that nothing is lost.

    python kills.py BINARY FOLDER [KILLS] [SEED]

A case is a choice of files to make and a folder to begin with: empty, written by the lesson as it was before, edited in
places. Of each case it is known what an undisturbed run leaves. A round begins there, kills the same run once to three
times (with SIGKILL, or SIGTERM now and then), and then holds that

- every file in its place is whole: as it was before, or as the undisturbed run leaves it;
- what somebody edited is still somewhere;
- one more run, left alone, leaves what the undisturbed one leaves, byte for byte, and ends with the same code.

Ends with 1 and leaves the folder of the first round that fails. Needs nothing but Python, on a system with signals."""

import random
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

LESSON = """title = "{title}"
tempo = 160
[keys]
only = [{keys}]
[scale]
name = "major"
[figure]
moves = "start, step up, step up, skip up"
[[player]]
name = "Window stand"
instrument = "alto saxophone"
[[player]]
name = "Door stand"
instrument = "trombone"
[[exercise]]
kind = "figure"
[[exercise]]
kind = "write out"
"""
COURSE = """course = "Term"
[[player]]
name = "Window stand"
instrument = "alto saxophone"
copies = 2
[[week]]
lessons = ["stand.toml"]
keys = ["C"]
[[week]]
again = 1
"""
BEFORE = LESSON.format(title="Before", keys='"C", "G"')
NOW = LESSON.format(title="Now", keys='"C", "Bb"')

# What is made and of what, each beside all else that a run can make of it.
CHOICES = (
    ("term.toml", "musicxml", "--answers"),
    ("term.toml", "pdf,midi,page"),
    ("stand.toml", "musicxml", "--gather", "--room", "concert", "--sign-off", "--answers"),
    ("stand.toml", "mxl", "--room", "transposed"),
    ("stand.toml", "midi",),
    ("stand.toml", "wav",),
    ("stand.toml", "flac", "--durable"),
    ("stand.toml", "pdf", "--answers", "--room", "concert"),
    ("stand.toml", "svg,png", "--resolution", "40"),
    ("stand.toml", "page",),
    ("stand.toml", "musicxml,mxl,midi,wav,pdf,svg,page", "--gather", "--sign-off", "--tidy"),
)
# What somebody did to a folder before the run that is killed.
EDITS = ("new", "written", "edited", "edited, to be replaced", "deleted", "edited twice", "contents lost")


@dataclass
class Case:
    """A run, where it begins and what it leaves when nobody kills it."""

    name: str
    folder: Path
    arguments: list[str]
    edits: dict[str, bytes]
    before: dict[str, bytes]
    after: dict[str, bytes]
    code: int
    seconds: float


def main() -> int:
    binary, folder = Path(sys.argv[1]).resolve(), Path(sys.argv[2]).resolve()
    kills = int(sys.argv[3]) if len(sys.argv) > 3 else 2000
    draw = random.Random(int(sys.argv[4]) if len(sys.argv) > 4 else 1)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    wanted, cases = [(place, edits) for place in range(len(CHOICES)) for edits in EDITS], {}
    told, killed, seen = Counter(), 0, Counter()
    while killed < kills:
        place, edits = draw.choice(wanted)
        if (place, edits) not in cases:
            cases[place, edits] = case(binary, folder, place, CHOICES[place], edits)
        one = cases[place, edits]
        faults, hits = play(one, draw, folder / "round", seen)
        killed += hits
        told[one.name.split(":")[0]] += hits
        if faults:
            print(f"{one.name}, after {killed} kills:", *faults, sep="\n  ")
            return 1
    for name, count in sorted(told.items()):
        print(f"{count:5} kills over {name}")
    print(f"{killed} kills in {len(cases)} cases, none lost anything: {', '.join(f'{n} {what}' for what, n in seen.items())}")
    return 0


def case(binary: Path, folder: Path, place: int, choice: tuple, edits: str) -> Case:
    begin, whole = folder / f"{place}-{edits.replace(' ', '-')}", folder / "whole"
    begin.mkdir()
    lesson = begin / "stand.toml"
    (begin / "term.toml").write_text(COURSE)
    arguments = [str(binary), "write", choice[0], "--quiet", "--jobs", "2", "--format", *choice[1:]]
    edited = {}
    if edits != "new":
        lesson.write_text(BEFORE)
        written = subprocess.run([*arguments, "--out", "out"], cwd=begin, capture_output=True)
        assert written.returncode == 0, written.stderr
        edited = spoil(begin, edits, arguments)
    lesson.write_text(NOW)
    arguments += ["--replace"] if edits.endswith("replaced") else []
    arguments += ["--out", "out"]
    before = tree(begin / "out")
    shutil.rmtree(whole, ignore_errors=True)
    shutil.copytree(begin, whole)
    begun = time.monotonic()
    code = subprocess.run(arguments, cwd=whole, capture_output=True).returncode
    seconds = time.monotonic() - begun
    assert code in (0, 3), f"{choice} {edits}: {code}"
    return Case(f"{choice[0]} {choice[1]}: {edits}", begin, arguments, edited, before, tree(whole / "out"), code, seconds)


def spoil(begin: Path, edits: str, arguments: list[str]) -> dict[str, bytes]:
    """Does to a written folder what a person might; gives what was edited."""
    files = sorted(name for name in tree(begin / "out") if not name.endswith("contents.json"))
    chosen = files[:: max(1, len(files) // 4)]
    if edits == "deleted":
        for name in chosen:
            (begin / "out" / name).unlink()
    if edits == "contents lost":
        for contents in list((begin / "out").rglob("contents.json")):
            contents.unlink()
    if not edits.startswith("edited"):
        return {}
    edited = {name: f"mine: {name}\n".encode() for name in chosen}
    for name, data in edited.items():
        (begin / "out" / name).write_bytes(data)
    if edits == "edited twice":
        # New versions stand beside the edits already, and one of those is edited too.
        (begin / "stand.toml").write_text(BEFORE.replace("Before", "Between"))
        subprocess.run([*arguments, "--out", "out"], cwd=begin, capture_output=True)
        new = sorted(name for name in tree(begin / "out") if ".new." in name)
        edited |= {name: b"mine too\n" for name in new[:1]}
        for name in new[:1]:
            (begin / "out" / name).write_bytes(edited[name])
    return edited


def play(one: Case, draw: random.Random, folder: Path, seen: Counter) -> tuple[list[str], int]:
    """One round; its faults, and how many runs were killed before they were done."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(one.folder, folder)
    hits = 0
    for _ in range(draw.choice((1, 1, 2, 3))):
        run = subprocess.Popen(one.arguments, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        how = draw.choice((signal.SIGKILL, signal.SIGKILL, signal.SIGKILL, signal.SIGTERM))
        try:
            run.wait(draw.uniform(0, one.seconds))
        except subprocess.TimeoutExpired:
            run.send_signal(how)
            run.wait()
            hits += 1
        now = tree(folder / "out")
        seen["midway"] += sum(now.get(name) == data != one.before.get(name) for name, data in one.after.items()) in range(1, len(one.after))
        seen["with notes of what was begun"] += any(folder.rglob(".pending"))
        seen["in a new folder"] += any(folder.rglob(".*.part"))
        faults = damage(one, now)
        if faults:
            return faults, hits
    done = subprocess.run(one.arguments, cwd=folder, capture_output=True, text=True)
    now, faults = tree(folder / "out", hidden=True), []
    if done.returncode != one.code:
        faults.append(f"the next run ends with {done.returncode}, not {one.code}: {done.stderr}")
    faults += [f"the next run leaves no {name}" for name in one.after.keys() - now.keys()]
    faults += [f"the next run also leaves {name}" for name in now.keys() - one.after.keys()]
    faults += [f"the next run leaves another {name}" for name in one.after.keys() & now.keys() if one.after[name] != now[name]]
    return faults, hits


def damage(one: Case, now: dict[str, bytes]) -> list[str]:
    """What a kill broke or lost."""
    whole = {}
    for known in (one.before, one.after):
        for name, data in known.items():
            whole.setdefault(name, set()).add(data)
    broken = [f"{name} is not whole" for name, data in now.items() if not name.endswith("contents.json") and data not in whole.get(name, ())]
    kept = set(now.values())
    return broken + [f"the edit of {name} is lost" for name, data in one.edits.items() if data not in kept]


def tree(folder: Path, hidden: bool = False) -> dict[str, bytes]:
    """Every file by its path; locks stay by design, and what is hidden is not in place yet."""
    files = (path for path in folder.rglob("*") if path.is_file() and not path.name.endswith(".lock"))
    named = ((str(path.relative_to(folder)), path) for path in files)
    return {name: path.read_bytes() for name, path in named if hidden or not any(part.startswith(".") for part in Path(name).parts)}


if __name__ == "__main__":
    sys.exit(main())
