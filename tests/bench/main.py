"""Measures whole processes: the batch beside a copy of its own folder, bare writes, and music21.

    main.py BINARY FOLDER [--most SHEETS] [--rounds N]

Runs are alternated, each into a fresh folder, with the disk let settle between them; medians with ranges.
"""

import argparse
import json
import os
import shutil
import statistics
import subprocess
import sys
import time
from pathlib import Path

import library

#: Sheets that music21 makes; it is slow.
FEW = 6


def settle():
    os.sync()
    time.sleep(1)


def timed(command):
    """Seconds, and the peak of memory in MB."""
    begun = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    seconds = time.perf_counter() - begun
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode in (0, 3), (command, child.returncode)
    return seconds, usage.ru_maxrss / 1024


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


def sheets_in(folder):
    paths = list(folder.rglob("*.musicxml"))
    return len(paths), sum(path.stat().st_size for path in paths)


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("binary", type=Path)
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--most", type=int, default=100_000)
    arguments.add_argument("--rounds", type=int, default=5)
    asked = arguments.parse_args()
    binary = str(asked.binary.resolve())
    shutil.rmtree(asked.folder, ignore_errors=True)
    folder = asked.folder
    folder.mkdir(parents=True)
    listed = json.loads(subprocess.check_output([binary, "list", "instruments", "--format", "json"]))
    instruments = [one["id"] for one in listed]

    # First, while this process is small: a child's peak counts its parent's.
    print("| sheets | seconds | µs a sheet | peak MB |")
    wanted = 100
    while wanted <= asked.most:
        for path in folder.glob("grown*"):
            shutil.rmtree(path)
        per_lesson = min(wanted, 12 * len(instruments))
        grown = folder / "grown"
        library.lessons(grown, -(-wanted // per_lesson), instruments[: -(-per_lesson // 12)])
        settle()
        out = folder / "grown-out"
        seconds, peak = timed([binary, "write", str(grown), "--out", str(out)])
        count, _ = sheets_in(out)
        print(f"| {count} | {seconds:.2f} | {1e6 * seconds / count:.0f} | {peak:.1f} |", flush=True)
        wanted *= 10

    lessons = folder / "lessons"
    library.lessons(lessons, 10, instruments)
    times = {"batch": [], "cp -r": [], "bare writes, one core": []}
    for turn in range(asked.rounds):
        made, copied, bare = (folder / f"{kind}-{turn}" for kind in ("made", "copied", "bare"))
        settle()
        times["batch"].append(timed([binary, "write", str(lessons), "--out", str(made)])[0])
        settle()
        times["cp -r"].append(timed(["cp", "-r", str(made), str(copied)])[0])
        times["bare writes, one core"].append(bare_writes(made, bare))
    count, size = sheets_in(folder / "made-0")
    print(f"{count} sheets, {size / 1e6:.0f} MB, {asked.rounds} rounds on {os.cpu_count()} cores")
    for name, values in times.items():
        print(f"| {name} | {spread(values)} | {spread(values, 'µs a sheet', 1e6 / count)} |")
    again = [timed([binary, "write", str(lessons), "--out", str(folder / "made-0")])[0] for _ in range(3)]
    print(f"| the same again, nothing to change | {spread(again)} | {spread(again, 'µs a sheet', 1e6 / count)} |")

    told = folder / "told.json"
    one = [binary, "write", "fixtures/lessons/lantern-stairs.toml", "--format", "json"]
    told.write_bytes(subprocess.check_output(one))
    script = Path(__file__).with_name("music21_sheets.py")
    by_music21 = [
        float(subprocess.check_output([sys.executable, str(script), str(told), str(folder / f"m-{turn}"), str(FEW)]))
        for turn in range(3)
    ]
    print(f"| music21, one core | | {spread(by_music21, 'ms a sheet', 1e3)} |")
    starts = [first_byte(one) for _ in range(11)]
    print(f"| start to first byte | {spread(starts, 'ms', 1e3)} | |")

if __name__ == "__main__":
    main()
