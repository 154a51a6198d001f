"""Measures whole processes: the batch beside a copy of its own folder, bare writes, and music21.

    main.py BINARY FOLDER [--rounds N]

Runs are alternated, each into a fresh folder, with the disk let settle between them; medians with ranges. Nothing is
deleted, and should not be in the minutes before: after many deletions ext4 is several times slower at making files.
"""

import json
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import library
from process import begin, settle, sheets_in, timed

LANTERN_STAIRS = Path("fixtures/lessons/lantern-stairs.toml")
#: Of the library's sheets for the horns below, music21 makes one in so many; it is slow.
ONE_IN = 40
HORNS = ["flute", "alto-saxophone", "trombone", "tuba"]


def first_byte(command):
    begun = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    child.stdout.read(1)
    seconds = time.perf_counter() - begun
    child.kill()
    child.wait()
    child.stdout.close()
    return seconds


def bare_writes(folder, out):
    """Ready bytes, held in memory, into plain files on one core: seconds."""
    files = [(path.relative_to(folder), path.read_bytes()) for path in sorted(folder.rglob("*.musicxml"))]
    settle()
    begun = time.perf_counter()
    for name, data in files:
        path = out / name
        try:
            path.write_bytes(data)
        except FileNotFoundError:
            path.parent.mkdir(parents=True)
            path.write_bytes(data)
    return time.perf_counter() - begun


def spread(values, unit="s", scale=1):
    low, middle, high = (scale * value for value in (min(values), statistics.median(values), max(values)))
    return f"{middle:.3g} {unit} ({low:.3g}–{high:.3g})"


def beside_music21(binary, lessons, folder, ours, one_in):
    """Lets music21 make some of the sheets; `ours` is what the batch took for each, in seconds."""
    folder.mkdir()
    horns = [word for horn in HORNS for word in ("--instrument", horn)]
    told = json.loads(subprocess.check_output([binary, "write", str(lessons), *horns, "--format", "json"]))
    some = folder / "some.json"
    some.write_text(json.dumps(told[::one_in]))
    script = Path(__file__).with_name("music21_sheets.py")
    command = [sys.executable, str(script), str(some)]
    theirs = [float(subprocess.check_output([*command, str(folder / f"made-{turn}")])) for turn in range(3)]
    ratio = statistics.median(theirs) / os.cpu_count() / ours
    print(f"| music21, one core, {len(told[::one_in])} of those sheets | | {spread(theirs, 'ms a sheet', 1e3)} |")
    print(f"| the batch's rate beside music21's on as many cores | {ratio:,.0f} × | |", flush=True)


def main():
    binary, folder, instruments, rounds = begin("--rounds", 7)
    lessons = folder / "lessons"
    library.lessons(lessons, 10, instruments)
    times = {"batch": [], "cp -r": [], "bare writes, one core": []}
    for turn in range(rounds):
        made, copied, bare = (folder / f"{kind}-{turn}" for kind in ("made", "copied", "bare"))
        settle()
        times["batch"].append(timed([binary, "write", str(lessons), "--out", str(made)])[0])
        settle()
        times["cp -r"].append(timed(["cp", "-r", str(made), str(copied)])[0])
        times["bare writes, one core"].append(bare_writes(made, bare))
    count, size = sheets_in(folder / "made-0")
    print(f"{count} sheets, {size / 1e6:.0f} MB, {rounds} rounds on {os.cpu_count()} cores")
    for name, values in times.items():
        print(f"| {name} | {spread(values)} | {spread(values, 'µs a sheet', 1e6 / count)} |")
    again = [timed([binary, "write", str(lessons), "--out", str(folder / "made-0")])[0] for _ in range(3)]
    print(f"| the same again, nothing to change | {spread(again)} | {spread(again, 'µs a sheet', 1e6 / count)} |")

    beside_music21(binary, lessons, folder / "of-library", statistics.median(times["batch"]) / count, ONE_IN)
    made = folder / "lantern-stairs"
    everyone = [word for one in instruments for word in ("--instrument", one)]
    taken = []
    for turn in range(rounds):
        settle()
        taken.append(timed([binary, "write", str(LANTERN_STAIRS), *everyone, "--out", str(made / str(turn))])[0])
    count, size = sheets_in(made / "0")
    print(f"{count} sheets of {LANTERN_STAIRS.name}, {size / 1e6:.0f} MB, {rounds} rounds")
    print(f"| batch | {spread(taken)} | {spread(taken, 'µs a sheet', 1e6 / count)} |")
    beside_music21(binary, LANTERN_STAIRS, folder / "of-lantern-stairs", statistics.median(taken) / count, 8)
    one = [binary, "write", str(LANTERN_STAIRS), "--format", "json"]
    starts = [first_byte(one) for _ in range(11)]
    print(f"| start to first byte | {spread(starts, 'ms', 1e3)} | |")
    print(f"What was written is left in {folder}.")


if __name__ == "__main__":
    main()
