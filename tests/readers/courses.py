"""A course's lessons and books: what each book holds is what its player's sheets hold, lesson after lesson, as music21
reads them."""

from __future__ import annotations

import json
from pathlib import Path

import lint
import schema
import together
from program import Program


def faults(course: Path, program: Program, folder: Path) -> list[str]:
    done = program.run(["write", str(course), "--out", str(folder), "--format", "musicxml,json"], allowed=(0, 3))
    sheets = json.loads(done)
    out = folder / course.stem
    told = json.loads((out / "contents.json").read_text(encoding="utf-8"))
    found = []
    for sheet in sheets:
        path = out / "lessons" / sheet["lesson"] / f"{sheet['sheet']}.musicxml"
        data = path.read_bytes()
        found += [f"{path.relative_to(out)}: {fault}" for fault in schema.faults(data) + lint.faults(data)]
    players = {Path(sheet["sheet"]).parent for sheet in sheets}
    if {Path(name).parent for name in told["bound"]} != players:
        found.append(f"books for {told['bound']}, sheets for {sorted(map(str, players))}")
    for name in told["bound"]:
        data = (out / name).read_bytes()
        found += [f"{name}: {fault}" for fault in schema.faults(data) + lint.faults(data)]
        theirs = [sheet for sheet in sheets if Path(sheet["sheet"]).parent == Path(name).parent and not sheet["answers"]]
        in_order = sorted(theirs, key=lambda sheet: (told["lessons"].index(sheet["lesson"]), sheet["number"]))
        found += together.book(out / name, in_order)
    return found
