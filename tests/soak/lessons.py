"""Writes random lessons in every format, and sees that none ends in a panic, a fault or a wait.

    python lessons.py BINARY FOLDER [COUNT] [SEED]

They are drawn as `tests/readers/mixture.py` draws them, a third of them over changes. Of each a few sheets are made, and
books, scores and grids of some. Ends with 1 where one isn't taken; its text is kept. Ctrl-C ends it with what is known
by then."""

import random
import shutil
import subprocess
import sys
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "readers"))
import mixture
from program import Program

FORMATS = "musicxml,mxl,midi,wav,flac,pdf,svg,png,page,json"
# Long enough for a busy machine; what hangs has no end.
PATIENCE = 600
CHORDS = ("m7", "7", "maj7", "m7b5", "7(b9)", "7sus4", "6", "m6", "dim7", "7(#11)", "m(maj7)", "")
ROOTS = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
STYLES = ("swing", "bossa", "waltz", "ballad")
OVER = (
    'kind = "changes"\nvariants = ["flipped", "reversed"]',
    'kind = "changes"\nbegins = "1 5"',
    'kind = "changes"\nconnect = "approach"',
    'kind = "guide tones"',
    'kind = "targets"',
)


def main() -> int:
    program, folder = Program(Path(sys.argv[1]).resolve()), Path(sys.argv[2]).resolve()
    count = int(sys.argv[3]) if len(sys.argv) > 3 else 500
    draw = random.Random(int(sys.argv[4]) if len(sys.argv) > 4 else 1)
    shutil.rmtree(folder, ignore_errors=True)
    scales = [one["id"] for one in program.list("scales")]
    horns = [one["id"] for one in program.list("instruments")]
    texts = [over(draw, place, horns) if place % 3 == 2 else mixture.lesson(draw, place, scales, horns) for place in range(count)]
    told = []
    with ThreadPoolExecutor(2) as pool:
        try:
            for one in pool.map(lambda one: write(program.binary, folder, *one), enumerate(texts)):
                told.append(one)
        except KeyboardInterrupt:
            pool.shutdown(cancel_futures=True)
    faults = [fault for fault, *_ in told if fault]
    codes = Counter(code for _, code, _ in told)
    print(*faults[:20], sep="\n")
    slowest = max((seconds for *_, seconds in told), default=0)
    print(f"{len(told)} lessons, {len(faults)} faults; codes {dict(codes)}; the slowest took {slowest:.1f} s")
    return 1 if faults else 0


def over(draw: random.Random, place: int, horns: list) -> str:
    meter, count, notes = draw.choice([one for one in mixture.COUNTS if one[0] == "4/4"])
    moves = ", ".join(["start", *(draw.choice(mixture.STEPS) for _ in range(notes - 1))])
    bars = "".join(f"| {' '.join(draw.choice(ROOTS) + draw.choice(CHORDS) for _ in range(draw.choice((1, 1, 2))))} " for _ in range(8))
    kinds = draw.sample(OVER, 2)
    head = [
        f'title = "Over {place}"',
        f'instruments = ["{draw.choice(horns)}"]',
        f'level = "{draw.choice(("beginner", "intermediate", "advanced"))}"',
        f'feel = "{draw.choice(("straight", "swing"))}"',
        f"tempo = {draw.randrange(50, 220, 10)}",
        f'[changes]\nkey = "{draw.choice(ROOTS)}"\nbars = "{bars}|"',
        f'[figure]\nmeter = "{meter}"\nmoves = "{moves}"\ncount = "{count}"',
        f'[track]\nstyle = "{draw.choice(STYLES)}"' if draw.random() < 0.5 else "",
    ]
    return "\n".join(head + [f"[[exercise]]\n{kind}" for kind in kinds]) + "\n"


def write(binary: Path, folder: Path, place: int, text: str) -> tuple[str, int, float]:
    """What is wrong, the code, and how long it took."""
    own = folder / str(place)
    own.mkdir(parents=True)
    lesson = own / "lesson.toml"
    lesson.write_text(text, encoding="utf-8")
    command = [binary, "write", lesson, "--out", own / "out", "--format", FORMATS, "--jobs", "1", "--quiet", "--answers"]
    # Books and scores come with the first part.
    command += ["--part", "1/24", "--gather", "--room", "concert", "--sign-off"] if place % 4 == 0 else ["--part", f"{place % 24 + 1}/24"]
    begun = time.monotonic()
    try:
        done = subprocess.run([*map(str, command), "--resolution", "40"], capture_output=True, text=True, timeout=PATIENCE)
    except subprocess.TimeoutExpired:
        return f"{lesson}: not done in {PATIENCE} s", -1, PATIENCE
    seconds = time.monotonic() - begun
    if done.returncode not in (0, 3):
        return f"{lesson}: {done.returncode}\n{done.stderr[:1500]}", done.returncode, seconds
    shutil.rmtree(own)
    return "", done.returncode, seconds


if __name__ == "__main__":
    sys.exit(main())
