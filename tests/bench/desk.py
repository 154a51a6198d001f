"""Measures what the desk takes from a changed text to the first page of the shown sheet, over the real route.

    desk.py BINARY [--edits N] [--seed N] [LESSON…]

Each shipped lesson is opened in turn and changed as by a hand: counts clicked, notes moved, another scale, title, tempo,
level, another choice of an exercise, another player or key; from the shipped text anew after every ten. What is measured
is the server's own time on its processor for each answer that has a page (Linux: /proc/…/schedstat), so that other work
on the machine counts little; the time on the clock, as the page waits, stands beside it. In milliseconds.
"""

import argparse
import http.client
import json
import random
import re
import shutil
import subprocess
import tempfile
import time
from pathlib import Path

LESSONS = Path("fixtures/lessons")
FRAME = 16.0


class Server:
    def __init__(self, binary: str, folder: str):
        command = [binary, "desk", folder, "--no-browser"]
        self.process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
        for line in self.process.stderr:
            if found := re.search(r"127\.0\.0\.1:(\d+)/#token=(\w+)", line):
                self.port, self.token = int(found[1]), found[2]
                break
        self.connection = http.client.HTTPConnection("127.0.0.1", self.port)

    def ask(self, path: str, body=None):
        data = None if body is None else json.dumps(body)
        self.connection.request("GET" if body is None else "POST", f"/api/{path}", data, {"x-desk-token": self.token})
        answer = self.connection.getresponse()
        said = answer.read()
        return json.loads(said) if answer.status == 200 else None

    def used(self) -> int:
        """Nanoseconds on a processor so far, of all its threads."""
        spent = 0
        for task in Path(f"/proc/{self.process.pid}/task").iterdir():
            try:
                spent += int((task / "schedstat").read_text().split()[0])
            except OSError:
                pass
        return spent


def edits(draw: random.Random, look: dict, choices: dict) -> list[dict]:
    """One change, as a control says it."""
    says, figures = look["says"], look.get("figures") or []
    kinds = ["title", "tempo", "level", "labels"] + ["count", "shift"] * 3 * bool(figures) + ["scale"] * 2 * ("scale" in says) + ["exercise"] * 2 * ("exercise" in says)
    kind = draw.choice(kinds)
    if kind == "title":
        return [{"do": "set", "at": ["title"], "value": f"Changed {draw.randrange(10_000)}"}]
    if kind == "tempo":
        return [{"do": "set", "at": ["tempo"], "value": draw.randrange(50, 180)}]
    if kind == "level":
        return [{"do": "set", "at": ["level"], "value": draw.choice(["beginner", "intermediate", "advanced"])}]
    if kind == "labels":
        return [{"do": "set", "at": ["labels"], "value": draw.sample(["degrees", "counts", "moves", "note names"], 2)}]
    if kind == "scale":
        return [{"do": "set", "at": ["scale", 0, "name"], "value": draw.choice(choices["scales"])["says"]}]
    if kind == "exercise":
        exercises = says["exercise"] if isinstance(says["exercise"], list) else [says["exercise"]]
        place = draw.randrange(len(exercises))
        own = next((one for one in choices["kinds"] if one["kind"] == exercises[place].get("kind")), {"words": []})
        words = [word for word in own["words"] if word["takes"] == "one"]
        if not words:
            return []
        word = draw.choice(words)
        return [{"do": "set", "at": ["exercise", place, word["key"]], "value": draw.choice(word["words"])}]
    place = draw.randrange(len(figures))
    cells = figures[place]["cells"]
    if kind == "count":
        cell = draw.choice(cells)
        return [{"do": "count", "figure": place, "count": cell["count"], "division": figures[place]["division"]}]
    notes = [cell["note"] for cell in cells if cell["note"]]
    return [{"do": "shift", "figure": place, "note": draw.choice(notes), "rungs": draw.choice([-2, -1, 1, 2]), "octaves": 0}] if notes else []


def measured(server: Server, lesson: Path, choices: dict, wanted: int, seed: int) -> list[tuple[float, float]]:
    draw = random.Random(f"{seed} {lesson.name}")
    shipped = lesson.read_text()
    times = []
    tried = 0
    while len(times) < wanted:
        if tried % 10 == 0:
            shown = {"file": lesson.name, "text": shipped, "player": 0, "key": ""}
            look = server.ask("look", shown)
        tried += 1
        assert tried < 20 * wanted, f"{lesson.name}: hardly an edit gives a page"
        if draw.random() < 0.15 and look.get("keys"):
            shown = shown | {"key": draw.choice(look["keys"])["stem"], "player": draw.randrange(len(look["players"]))}
        else:
            changes = edits(draw, look, choices)
            edited = changes and server.ask("edit", {"text": shown["text"], "changes": changes})
            if not edited:
                continue
            shown = shown | {"text": edited["text"]}
        before, begun = server.used(), time.perf_counter()
        now = server.ask("look", shown)
        took, spent = time.perf_counter() - begun, server.used() - before
        if now and now.get("sheet"):
            times.append((spent / 1e6, took * 1e3))
        if now and not now["mistakes"]:
            look = now
    return times


def percentile(values: list[float], part: int) -> float:
    return sorted(values)[(len(values) * part + 99) // 100 - 1]


def main() -> int:
    arguments = argparse.ArgumentParser()
    arguments.add_argument("binary")
    arguments.add_argument("lessons", nargs="*")
    arguments.add_argument("--edits", type=int, default=500)
    arguments.add_argument("--seed", type=int, default=1)
    asked = arguments.parse_args()
    slow = []
    with tempfile.TemporaryDirectory() as folder:
        for file in LESSONS.iterdir():
            if file.is_file():
                shutil.copy(file, folder)
        server = Server(asked.binary, folder)
        try:
            choices = server.ask("choices")
            lessons = sorted(file for file in Path(folder).glob("*.toml") if not asked.lessons or file.stem in asked.lessons)
            print(f"| lesson | median | 95 % | most | 95 % on the clock |\n|---|---|---|---|---|")
            for lesson in lessons:
                times = measured(server, lesson, choices, asked.edits, asked.seed)
                spent, waited = [one for one, _ in times], [one for _, one in times]
                high = percentile(spent, 95)
                print(f"| `{lesson.name}` | {percentile(spent, 50):.1f} | {high:.1f} | {max(spent):.1f} | {percentile(waited, 95):.1f} |", flush=True)
                if high >= FRAME:
                    slow.append(lesson.name)
        finally:
            server.process.terminate()
    print(f"slower than {FRAME:.0f} ms: {', '.join(slow) or 'none'}")
    return 1 if slow else 0


if __name__ == "__main__":
    raise SystemExit(main())
