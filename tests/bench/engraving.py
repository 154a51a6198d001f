"""Measures the engraver beside an independent one (Verovio's wheel) on the same sheets, one core each, alternated.

    engraving.py BINARY FOLDER [--rounds N]

A sheet of ours is composed, engraved and written as SVG; theirs is read from our MusicXML, engraved and given as SVG.
"""

import statistics
import subprocess
import sys
import time
from pathlib import Path

import verovio

LESSON = "fixtures/lessons/lantern-stairs.toml"
OPTIONS = {"breaks": "encoded", "header": "none", "footer": "none", "pageWidth": 2100, "pageHeight": 2970}
# Of the sheets, the wheel draws one in so many; it is slow.
ONE_IN = 8


def ours(binary: str, out: Path, form: str) -> tuple[float, int]:
    begun = time.perf_counter()
    subprocess.run([binary, "write", LESSON, "--out", str(out), "--format", form, "--jobs", "1"], check=True, capture_output=True)
    seconds = time.perf_counter() - begun
    return seconds, len(list(out.rglob("contents.json"))) and len({path.name.split(".")[0] + str(path.parent) for path in out.rglob(f"*.{form}") if "book" not in path.name})


def theirs(sheets: list[Path]) -> float:
    toolkit = verovio.toolkit()
    toolkit.setOptions(OPTIONS)
    texts = [sheet.read_text(encoding="utf-8") for sheet in sheets]
    begun = time.perf_counter()
    for text in texts:
        toolkit.loadData(text)
        for page in range(1, toolkit.getPageCount() + 1):
            toolkit.renderToSVG(page)
    return time.perf_counter() - begun


def one_sheet(binary: str, out: Path) -> float:
    begun = time.perf_counter()
    command = ["write", LESSON, "--out", str(out), "--format", "svg", "--instrument", "flute", "--key", "C"]
    subprocess.run([binary, *command], check=True, capture_output=True)
    return time.perf_counter() - begun


def main() -> None:
    binary, folder = sys.argv[1], Path(sys.argv[2]) / f"engraving-{time.time_ns()}"
    rounds = int(sys.argv[sys.argv.index("--rounds") + 1]) if "--rounds" in sys.argv else 5
    ours(binary, folder / "notation", "musicxml")
    notation = sorted((folder / "notation").rglob("*.musicxml"))[::ONE_IN]
    rates: dict[str, list[float]] = {}
    for turn in range(rounds):
        for form in ("svg", "pdf", "png"):
            seconds, sheets = ours(binary, folder / f"{form}-{turn}", form)
            rates.setdefault(f"{form}, sheets a second", []).append(sheets / seconds)
        rates.setdefault("one svg, milliseconds of the whole process", []).append(1000 * one_sheet(binary, folder / f"one-{turn}"))
        rates.setdefault("independent engraver, svg, sheets a second", []).append(len(notation) / theirs(notation))
    for what, found in rates.items():
        print(f"{what}: {statistics.median(found):.1f} ({min(found):.1f}–{max(found):.1f})")


if __name__ == "__main__":
    main()
