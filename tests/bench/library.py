"""Makes a library of lessons for the benchmarks: twelve scales, many figures, every instrument in every key."""

import json
import random
from pathlib import Path

SCALES = [
    "major", "dorian", "phrygian", "lydian", "mixolydian", "natural minor",
    "locrian", "harmonic minor", "melodic minor", "major pentatonic", "minor pentatonic", "whole tone",
]
MOVES = ["step up", "step down", "skip up", "skip down", "up 3 steps", "down 3 steps"]


def lessons(folder: Path, count: int, instruments: list[str], seed: int = 5) -> None:
    """Writes `count` lessons, no two alike."""
    folder.mkdir(parents=True)
    chance = random.Random(seed)
    seen = set()
    while len(seen) < count:
        scale = SCALES[len(seen) % len(SCALES)]
        moves = tuple(chance.choice(MOVES) for _ in range(chance.randint(2, 5)))
        if (scale, moves) in seen:
            continue
        # Every other teacher wants the degrees, and the count, under the notes.
        labels = 'labels = ["degrees", "counts"]\n' if len(seen) % 2 else ""
        text = (
            f'title = "Library {len(seen):04}"\ninstruments = {json.dumps(instruments)}\n{labels}'
            f'[scale]\nname = "{scale}"\n[figure]\nmoves = "{", ".join(("start", *moves))}"\n'
        )
        (folder / f"library-{len(seen):04}.toml").write_text(text)
        seen.add((scale, moves))
