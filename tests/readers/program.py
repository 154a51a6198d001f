"""Running the program: lessons in, folders of sheets and the program's own word about them out."""

from __future__ import annotations

import json
import subprocess
from dataclasses import dataclass
from pathlib import Path


from tracks import Played, Wish


@dataclass
class Written:
    """A sheet on disk and what the program says of it."""

    path: Path
    told: dict

    @property
    def name(self) -> str:
        return f"{self.told['lesson']}/{self.told['sheet']}"


class Program:
    def __init__(self, binary: Path):
        self.binary = binary

    def write(self, lesson: Path, out: Path, *options: str) -> list[Written]:
        """Writes a lesson's sheets, plain and compressed."""
        command = ["write", str(lesson), "--out", str(out), "--format", "musicxml,mxl,json", *options]
        done = self.run(command, allowed=(0, 3))
        return [Written(out / told["lesson"] / f"{told['sheet']}.musicxml", told) for told in json.loads(done)]

    def play(self, lesson: Path, out: Path, *options: str) -> list[Played]:
        """Writes a lesson's practice tracks."""
        done = self.run(["write", str(lesson), "--out", str(out), "--format", "midi,json", *options], allowed=(0, 3))
        sheets = {told["sheet"]: told for told in json.loads(done)}
        folder, wish = out / next(iter(sheets.values()))["lesson"], Wish.of(lesson)
        contents = json.loads((folder / "contents.json").read_text(encoding="utf-8"))
        return [Played(folder / entry["file"], entry, on_track(entry, sheets), wish) for entry in contents["tracks"]]

    def list(self, catalogue: str) -> list[dict]:
        return json.loads(self.run(["list", catalogue, "--format", "json"], allowed=(0,)))

    def run(self, arguments: list[str], allowed: tuple) -> str:
        done = subprocess.run([self.binary, *arguments], capture_output=True, text=True)
        if done.returncode not in allowed:
            raise RuntimeError(f"twelvefold {' '.join(arguments)} → {done.returncode}\n{done.stderr}")
        return done.stdout


def on_track(entry: dict, sheets: dict) -> list[dict]:
    """The sheets that a track plays: the one it says, or a player's in all keys, answers left out."""
    if "number" in entry:
        return [sheets[entry["sheet"]]]
    place = entry["sheet"].split("/")[0]
    return [told for sheet, told in sheets.items() if sheet.startswith(f"{place}/") and not told["answers"]]
