"""What the program prints and keeps as JSON, held against the schemas that it prints itself. They are closed first: a
field that no schema tells is a fault here, though whoever reads later versions must read past one."""

import json
from pathlib import Path

from jsonschema import Draft202012Validator

from program import Program

LESSONS = ("quarry-answers", "crooked-pier", "brass-cellar", "lamplighter-rounds", "three-windows")
SPELLED = (("C altered", "alto-saxophone"), ("A melodic-minor-classical", "b-flat-trumpet"), ("Ab7(b9)", "flute"))
CATALOGUES = (["scales"], ["scales", "melodic-minor-classical"], ["instruments"], ["chords"], ["key-orders"], ["exercises"])


def check(program: Program, folder: Path, lessons: Path) -> list[str]:
    """Every fault there is."""
    faults = []

    def hold(of: str, told: str) -> None:
        schema = json.loads(program.run(["schema", of], allowed=(0,)))
        Draft202012Validator.check_schema(schema)
        errors = Draft202012Validator(closed(schema)).iter_errors(json.loads(told))
        faults.extend(f"{of}: {error.json_path}: {error.message[:200]}" for error in errors)

    for name in LESSONS:
        lesson = str(lessons / f"{name}.toml")
        write = ["write", lesson, "--out", str(folder), "--answers", "--format"]
        hold("sheets", program.run([*write, "json"], allowed=(0, 3)))
        program.run([*write, "midi,pdf", "--part", "1/24"], allowed=(0, 3))
        hold("sheets", program.run([*write, "musicxml,midi,json", "--part", "1/12"], allowed=(0, 3)))
        hold("contents", (folder / name / "contents.json").read_text(encoding="utf-8"))
        for options in ([], ["--explain"]):
            hold("check", program.run(["check", lesson, "--format", "json", *options], allowed=(0, 3)))
    course = str(lessons.parent / "courses" / "lamplight-term.toml")
    hold("check", program.run(["check", course, "--format", "json"], allowed=(0, 3)))
    hold("sheets", program.run(["write", course, "--out", str(folder), "--format", "musicxml,midi,pdf,json"], allowed=(0, 3)))
    for kept in sorted((folder / "lamplight-term").rglob("contents.json")):
        hold("contents", kept.read_text(encoding="utf-8"))
    for words in CATALOGUES:
        hold("list", program.run(["list", *words, "--format", "json"], allowed=(0,)))
    for what, instrument in SPELLED:
        hold("spell", program.run(["spell", what, "--for", instrument, "--format", "json"], allowed=(0,)))
    if not list(Draft202012Validator(closed({"type": "object", "properties": {"a": {}}})).iter_errors({"b": 1})):
        faults.append("a field that isn't told is not seen")
    return faults


def closed(schema: object) -> object:
    """The same where objects have no fields but those told."""
    if isinstance(schema, list):
        return [closed(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    told = {key: closed(value) for key, value in schema.items()}
    if isinstance(told.get("properties"), dict) and "type" in told:
        told.setdefault("additionalProperties", False)
    return told
