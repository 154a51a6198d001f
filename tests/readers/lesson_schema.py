"""The schemas of a lesson and a course, as editors use them: every shipped lesson passes, and whatever a schema refuses
the program refuses too."""

import copy
import json
import re
import tomllib
from pathlib import Path

from jsonschema import Draft202012Validator

from program import Program

# One of each table, so that a wrong value of every word has its place.
LESSON = {
    "title": "One of each",
    "keys": {"order": "fourths"},
    "scale": [{"name": "dorian"}],
    "figure": [{"name": "cell", "moves": "start, step up, step up, step down", "count": "1 2 3 4"}],
    "changes": {"bars": "| Dm7 | G7 |"},
    "choose": {"7": "mixolydian"},
    "track": {"levels": {"line": 100}},
    "instrument": [{"name": "Reed pipe", "range": "B3 to A5"}],
    "player": [{"name": "Window stand", "instrument": "Reed pipe"}],
    "exercise": [{"kind": "changes", "weights": {"smooth": 4}, "tempo": {"from": 60, "to": 90, "by": 10}}],
}
COURSE = {
    "course": "One of each",
    "week": [{"lessons": ["lesson.toml"]}],
    "player": [{"name": "Window stand", "instrument": "flute"}],
    "track": {"levels": {"line": 100}},
}
# Where each table of a schema stands.
PLACES = {
    "keys": ["keys"], "scale": ["scale", 0], "figure": ["figure", 0], "changes": ["changes"], "track": ["track"],
    "levels": ["track", "levels"], "instrument": ["instrument", 0], "player": ["player", 0], "exercise": ["exercise", 0],
    "weights": ["exercise", 0, "weights"], "tempo": ["exercise", 0, "tempo"], "week": ["week", 0],
}


def check(program: Program, folder: Path, lessons: Path) -> list[str]:
    """Every fault there is."""
    faults = []
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "lesson.toml").write_text(as_toml(LESSON), encoding="utf-8")
    for of, whole in (("lesson", LESSON), ("course", COURSE)):
        schema = json.loads(program.run(["schema", of], allowed=(0,)))
        Draft202012Validator.check_schema(schema)
        held = Draft202012Validator(schema)
        shipped = sorted((lessons if of == "lesson" else lessons.parent / "courses").glob("*.toml"))
        for path in shipped:
            says = tomllib.loads(path.read_text(encoding="utf-8"))
            faults.extend(f"{path.name}: {error.json_path}: {error.message[:200]}" for error in held.iter_errors(says))
        for text in examples(lessons, "toml" if of == "lesson" else "toml course"):
            faults.extend(f"the reference: {error.message[:200]}" for error in held.iter_errors(tomllib.loads(text)))
        if not shipped or not held.is_valid(whole):
            faults.append(f"{of}: nothing was looked at")
        if of == "lesson" and held.is_valid(tomllib.loads((lessons / "mistakes/seven.toml").read_text(encoding="utf-8"))):
            faults.append("seven.toml: its mistakes are not seen")
        path = folder / f"{of}-wrong.toml"
        path.write_text(as_toml(whole), encoding="utf-8")
        program.run(["check", str(path)], allowed=(0, 3))
        rows = list(wrong(schema, whole))
        if len(rows) < 60:
            faults.append(f"{of}: only {len(rows)} wrong values were tried")
        for what, says in rows:
            if held.is_valid(says):
                faults.append(f"{of}: {what} is not seen")
            path.write_text(as_toml(says), encoding="utf-8")
            try:
                program.run(["check", str(path)], allowed=(2,))
            except Exception as error:  # whatever the program's caller raises for another exit code
                faults.append(f"{of}: {what} is refused by the schema alone: {str(error)[:200]}")
    return faults


def examples(lessons: Path, language: str) -> list[str]:
    """The whole lessons, or courses, of the reference."""
    text = (lessons.parent.parent / "crates/lesson-text/README.md").read_text(encoding="utf-8")
    return re.findall(rf"^```{language}\n(.*?)^```", text, flags=re.MULTILINE | re.DOTALL)


def wrong(schema: dict, whole: dict):
    """Whole lessons with one thing wrong, each with its name."""
    tables = {None: schema, **schema["$defs"]}
    for name, table in tables.items():
        if name is not None and (name not in PLACES or not stands(whole, PLACES[name])):
            continue
        way = [] if name is None else PLACES[name]
        yield f"{name}: an unknown word", put(whole, [*way, "humming"], 1)
        for group in table.get("allOf", []):
            for key in group.get("required", []):
                yield f"{name}: no {key}", put(whole, [*way, key], None)
        for key, takes in table["properties"].items():
            for value in wrong_values(takes):
                yield f"{name}: {key} = {json.dumps(value)}", put(whole, [*way, key], value)


def wrong_values(takes: dict) -> list:
    """Values that no such word has."""
    options = takes.get("anyOf", [takes])
    types = {option.get("type", "object" if "$ref" in option else "string") for option in options}
    values: list = [True] if "boolean" not in types else ["yes"]
    if "string" not in types:
        values.append("xyzzy")
    if any("pattern" in option for option in options):
        values.append("xyzzy")
    if "integer" not in types:
        values.append(7)
    for option in options:
        if option.get("type") == "integer":
            values += [option["minimum"] - 1, option["maximum"] + 1]
    return values


def stands(whole: dict, way: list) -> bool:
    try:
        for step in way:
            whole = whole[step]
    except (KeyError, IndexError):
        return False
    return True


def put(whole: dict, way: list, value: object) -> dict:
    """The same with one value put in, or with none taken out."""
    changed = copy.deepcopy(whole)
    inner = changed
    for step in way[:-1]:
        inner = inner[step]
    if value is None:
        inner.pop(way[-1], None)
    else:
        inner[way[-1]] = value
    return changed


def as_toml(says: dict) -> str:
    """As TOML, tables within lines."""
    return "".join(f"{json.dumps(key)} = {inline(value)}\n" for key, value in says.items())


def inline(value: object) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(key)} = {inline(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(inline(inner) for inner in value) + "]"
    return json.dumps(value, ensure_ascii=False)
