"""Measures how soon a run ends that is asked to stop, and that nothing is lost by it: each of the slow cases is asked at random
moments, by Ctrl-C's signal and by the system's; then the same command runs once more, and must leave what an undisturbed one leaves.

    stopping.py BINARY FOLDER [--moments N] [--font FONT.sf2] [--only WORD]

Seconds on the clock from the signal to the process's end, and of the processor in between, which other work on the machine hardly
changes.
"""

import argparse
import os
import random
import shutil
import signal
import subprocess
import time
from pathlib import Path

BARS = "Cmaj7 Am7 Dm7 G7 Em7 A7 Dm7 G7 Fmaj7 Bb7 Em7 A7 Dm7 G7 C6 G7".split()
HEAD = 'title = "Slow"\ninstruments = ["flute"]\ntempo = 120\n'
FIGURE = '[[figure]]\nname = "call"\nmoves = "start, step up, step up, skip down, step up"\ncount = "1 & 2 & 3"\n'
CHORUSES = ", ".join(['"line"'] * 16)
# Changes of 62 bars, sixteen times over, in every variant of a figure.
CHANGES = f"""{HEAD}[keys]
only = ["C", "F"]
[changes]
key = "C"
bars = "| {" | ".join(BARS[bar % len(BARS)] for bar in range(62))} |"
{FIGURE}[[exercise]]
kind = "changes"
figure = "call"
variants = "all"
choruses = [{CHORUSES}]
weights = {{ phrase = 3, high_point = 3 }}
"""
EXERCISES = HEAD + '[keys]\nonly = ["C", "F"]\n[scale]\nname = "major"\n' + FIGURE + 200 * '[[exercise]]\nkind = "sequence"\nspan = "whole horn"\n'
TRACKS = f"""{HEAD}[keys]
only = ["C", "F"]
[track]
forms = ["backing", "all keys", "slow"]
[scale]
name = "major"
{FIGURE}[[exercise]]
kind = "sequence"
span = "whole horn"
"""
COURSE = """course = "Term"
[[player]]
name = "Noor"
instrument = "alto saxophone"
[[player]]
instrument = "trombone"
[[week]]
lessons = ["exercises.toml"]
keys = ["C", "F"]
[[week]]
lessons = ["tracks.toml"]
again = 1
"""
LESSONS = {"changes": CHANGES, "exercises": EXERCISES, "tracks": TRACKS, "term": COURSE}
# A lesson, and what is made of it.
CASES = (
    ("changes", "musicxml"),
    ("changes", "midi,mxl"),
    ("changes", "musicxml", "--gather", "--room", "concert"),
    ("changes", "pdf,svg"),
    ("changes", "page"),
    ("changes", "flac"),
    ("exercises", "pdf"),
    ("exercises", "page"),
    ("exercises", "png", "--resolution", "60"),
    ("tracks", "wav"),
    ("tracks", "flac"),
    ("tracks", "wav", "--soundfont"),
    ("term", "musicxml,pdf,midi,page"),
)


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("binary", type=Path)
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--moments", type=int, default=20)
    arguments.add_argument("--font", default="/usr/share/sounds/sf2/FluidR3_GM.sf2")
    arguments.add_argument("--only", default="")
    asked = arguments.parse_args()
    shutil.rmtree(asked.folder, ignore_errors=True)
    asked.folder.mkdir(parents=True)
    for name, text in LESSONS.items():
        (asked.folder / f"{name}.toml").write_text(text, encoding="utf-8")
    draw = random.Random(1)
    every = []
    print(f"{'seconds to the end':44}  stopped  95 %   worst  processor 95 %  worst   by themselves")
    for case in CASES:
        name = " ".join(case)
        if asked.only in name:
            more = [asked.font] if case[-1] == "--soundfont" else []
            command = [str(asked.binary.resolve()), "write", f"{case[0]}.toml", "--quiet", "--format", *case[1:], *more]
            stops = stopped(command, asked.folder, asked.moments, draw)
            every += stops
            tell(name, stops)
    tell("all", every)


def tell(name, stops):
    ended = [stop for stop in stops if stop.code == 130]
    if not ended:
        print(f"{name:44} every run had ended", flush=True)
        return
    clock, processor = (sorted(getattr(stop, what) for stop in ended) for what in ("clock", "processor"))
    most = int(0.95 * (len(ended) - 1) + 0.5)
    own = sum(stop.itself for stop in ended)
    print(f"{name:44} {len(ended):8} {clock[most]:5.2f}  {clock[-1]:6.2f} {processor[most]:15.2f}  {processor[-1]:5.2f} {own:8} of {len(ended)}", flush=True)


class Stop:
    """How a run ended that was asked to."""

    def __init__(self, code, clock, processor, itself):
        self.code, self.clock, self.processor, self.itself = code, clock, processor, itself


def stopped(command, folder, moments, draw):
    out = folder / "out"
    begun = time.monotonic()
    run(command, folder)
    long = time.monotonic() - begun
    whole = tree(out)
    stops = []
    for name in moments * (signal.SIGINT, signal.SIGTERM):
        shutil.rmtree(out, ignore_errors=True)
        stops.append(one(command, folder, name, draw.random() * long))
        left = tree(out)
        wrong = [file for file, held in left.items() if not file.endswith("contents.json") and not hidden(file) and whole.get(file) != held]
        assert not wrong, (command, wrong)
        run(command, folder)
        now = tree(out)
        assert now == whole, (command, sorted(set(now) ^ set(whole)), [file for file in now if whole.get(file) != now[file]])
    shutil.rmtree(out, ignore_errors=True)
    return stops


def one(command, folder, name, moment):
    child = subprocess.Popen([*command, "--out", "out"], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    time.sleep(moment)
    before = spent(child.pid)
    asked = time.monotonic()
    child.send_signal(name)
    _, status, usage = os.wait4(child.pid, 0)
    clock = time.monotonic() - asked
    child.returncode = os.waitstatus_to_exitcode(status)
    told = child.stderr.read().decode()
    # before signals are heard one simply ends the process
    code = 130 if child.returncode == -name else child.returncode
    assert code in (0, 3, 130), (command, code, told)
    if child.returncode == 130:
        assert "what is written is whole, and the same command goes on from there" in told, told
        assert "left out" not in told, told
    processor = usage.ru_utime + usage.ru_stime - before if before is not None else 0.0
    # a run that doesn't end by itself is ended 0.2 s after it was asked
    return Stop(code, clock, max(processor, 0.0), clock < 0.2)


def spent(pid):
    """Seconds of the processor so far; none where the process is gone."""
    try:
        fields = Path(f"/proc/{pid}/stat").read_text().rsplit(") ", 1)[1].split()
    except OSError:
        return None
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def run(command, folder):
    done = subprocess.run([*command, "--out", "out"], cwd=folder, capture_output=True, text=True)
    assert done.returncode in (0, 3), (command, done.stderr)


def hidden(file):
    return any(part.startswith(".") for part in file.split("/"))


def tree(folder):
    files = (path for path in folder.rglob("*") if path.is_file())
    named = ((str(path.relative_to(folder)), path) for path in files)
    return {name: path.read_bytes() for name, path in named if not name.endswith(".lock")}


if __name__ == "__main__":
    main()
