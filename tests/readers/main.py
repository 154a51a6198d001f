"""Holds every shipped lesson's sheets against the schema, against what a player needs, and against what three independent
readers make of them, note for note.

    python main.py BINARY FOLDER

Writes into FOLDER. Ends with `N passed, N failed`; exit code 1 if any failed."""

import gc
import os
import shutil
import sys
import traceback
from functools import partial
from multiprocessing import Pool
from pathlib import Path

import band
import by_music21
import by_partitura
import by_verovio
import chord_meaning
import courses
import engraved
import expectation
import forms
import json_schema
import lead_sheets
import lesson_schema
import lint
import mixture
import over
import schema
import spoiling
import together
import tracks
import understanding
from program import Program, Written
from sheet import Sheet

# Who plays every lesson's tracks: sounding where they are written, and from two octaves below to one above.
HORNS = ("piccolo", "flute", "e-flat-clarinet", "alto-saxophone", "b-flat-trumpet", "horn-in-f", "tenor-saxophone", "trombone", "guitar", "tuba")
LESSONS = Path(__file__).parents[2] / "fixtures" / "lessons"


def main() -> int:
    program, folder = Program(Path(sys.argv[1])), Path(sys.argv[2])
    shutil.rmtree(folder, ignore_errors=True)
    sheets = [sheet for lesson in sorted(LESSONS.glob("*.toml")) for sheet in program.write(lesson, folder / "sheets")]
    rooms = everyone(program, folder)
    checks = [partial(check, sheet) for check in (valid, clean, packed, music21, verovio) for sheet in sheets]
    # Slower than it is different: a third of the sheets.
    checks += [partial(partitura, sheet) for sheet in sheets[::3]]
    checks += [partial(check, sheet) for check in (valid, clean) for sheet in rooms]
    checks += [partial(check, sheet) for check in (music21, verovio) for sheet in rooms if sheet.told["number"] == 1]
    checks += [partial(by_hand, case, program, folder / "by-hand" / str(place)) for place, case in enumerate(expectation.cases())]
    checks += [partial(form, one.name, program, folder / "forms" / str(place)) for place, one in enumerate(forms.forms())]
    checks += [partial(over_changes, lesson, program, folder / "over") for lesson in over.FORMS]
    checks += [partial(over_spoiled, spoil, program, folder / "over-spoiled" / str(place)) for place, spoil in enumerate(over.SPOILS)]
    checks += [partial(chord, one, program, folder / "chords" / one["id"]) for one in program.list("chords")]
    checks += [partial(mixed, text, program, folder / "mixture" / str(place)) for place, text in enumerate(mixture.lessons(program))]
    checks += [partial(bound, lesson, program, folder / "bound" / lesson) for lesson in together.LESSONS]
    checks += [partial(course, path, program, folder / "courses") for path in sorted((LESSONS.parent / "courses").glob("*.toml"))]
    checks += [partial(spoiled, spoil, whole(sheets), folder / "spoiled") for spoil in spoiling.SPOILS]
    checks += [partial(distinct, sheets), partial(json_schema.check, program, folder / "json", LESSONS)]
    checks += [partial(lesson_schema.check, program, folder / "schema", LESSONS)]
    checks += [partial(charted, path, program, folder / "charts" / path.stem) for path in lead_sheets.files()]
    nottingham = lead_sheets.tunes(folder / "tunes", "nottingham-dataset")
    checks += [partial(charted, path, program, folder / "charts" / path.stem) for path in nottingham]
    checks += engraving(program, folder / "engraved")
    checks += hearing(program, folder / "tracks")
    drawn = understanding.tunes()
    measuring = [partial(understanding.measure, tune, program, folder / "tunes" / str(place)) for place, tune in enumerate(drawn)]
    # What readers make of a sheet is thousands of objects that all stay until it is done: seldom looking for rubbish
    # among them takes a tenth less.
    with Pool(os.cpu_count(), initializer=gc.set_threshold, initargs=(50_000,)) as pool:
        results = pool.map(outcome, checks, chunksize=8)
        measured = pool.map(understanding.call, measuring, chunksize=4)
    results.append(outcome(partial(understood, measured)))
    failures = [result for result in results if result is not None]
    for failure in failures:
        print(failure)
    print(f"{len(results) - len(failures)} passed, {len(failures)} failed")
    return 1 if failures else 0


# Of each lesson's pages a fixed few are set beside the independent engraver's, which is slow: one sheet in so many, of
# six instruments in all keys; and one player's first two sheets of the random lessons. `engraved.py` by itself does all.
ENGRAVED = 24


def engraving(program: Program, folder: Path) -> list[partial]:
    """A share of every lesson's pages, and pages with a fault that must be seen."""
    horns = [option for horn in engraved.HORNS for option in ("--instrument", horn)]
    checks = []
    for lesson in sorted(LESSONS.glob("*.toml")):
        drawn = engraved.drawings(program, lesson, folder / lesson.stem, *horns)
        checks += [partial(drawn_alike, *pair) for pair in drawn[:: ENGRAVED]]
    checks += [partial(faults_seen, *pair) for pair in engraved.drawings(program, LESSONS / "lantern-stairs.toml", folder / "spoiled", "--key", "C", "--instrument", "alto-saxophone")]
    for place, text in enumerate(mixture.lessons(program)):
        path = folder / "mixture" / f"{place}.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        drawn = engraved.drawings(program, path, folder / "mixture" / str(place))
        checks += [partial(drawn_alike, *pair) for pair in drawn[:2]]
    return checks


def hearing(program: Program, folder: Path) -> list[partial]:
    """Every lesson's practice tracks as it asks for them and for every horn; the audio of two."""
    horns = [option for horn in HORNS for option in ("--instrument", horn)]
    checks = []
    for lesson in sorted(LESSONS.glob("*.toml")):
        played = program.play(lesson, folder / "horns", *horns)
        checks += [partial(heard, track) for track in played]
        checks += [partial(read_alike, track) for track in played[:: len(played) // len(HORNS) or 1]]
    for style in band.STYLES:
        for name, key in (("winter-quay", "F"), ("ferry-bell-waltz", "G")):
            text = (LESSONS / f"{name}.toml").read_text(encoding="utf-8") + f'\n[track]\nstyle = "{style}"\ntimes = 2\n'
            lesson = folder / "styles" / style.replace(" ", "-") / f"{name}.toml"
            lesson.parent.mkdir(parents=True, exist_ok=True)
            lesson.write_text(text, encoding="utf-8")
            played = program.play(lesson, lesson.parent, "--instrument", "flute", "--key", key)
            checks += [partial(heard, track) for track in played]
    for name, key in (("smallest", "Eb"), ("lantern-stairs", "C")):
        options = ["--format", "midi,wav,flac", "--key", key, "--instrument", "flute"]
        program.run(["write", str(LESSONS / f"{name}.toml"), "--out", str(folder / "audio"), *options], allowed=(0,))
        checks += [partial(audible, path) for path in sorted((folder / "audio" / name).glob("*/*.mid"))]
    return checks


def everyone(program: Program, folder: Path) -> list[Written]:
    """The smallest lesson for every instrument there is, at each level."""
    horns = [option for one in program.list("instruments") for option in ("--instrument", one["id"])]
    smallest = (LESSONS / "smallest.toml").read_text(encoding="utf-8")
    sheets = []
    for level in ("beginner", "intermediate", "advanced"):
        lesson = folder / f"{level}.toml"
        lesson.parent.mkdir(parents=True, exist_ok=True)
        lesson.write_text(f'level = "{level}"\n{smallest}', encoding="utf-8")
        sheets += program.write(lesson, folder / "rooms", *horns)
    return sheets


def whole(sheets: list[Written]) -> Written:
    """A sheet with everything on it that can be spoiled."""
    return next(sheet for sheet in sheets if sheet.told["lesson"] == "lantern-stairs" and sheet.told["transposition"])


def outcome(check: partial) -> str | None:
    """A failed check's words, or none."""
    try:
        faults = check()
    except Exception:
        faults = traceback.format_exc().splitlines()
    if not faults:
        return None
    return "\n    ".join([f"FAILED {check.func.__name__} {subject(check.args[0])}", *faults[-8:]])


def subject(argument) -> str:
    """What a check was about."""
    if isinstance(argument, dict):
        return argument["id"]
    return "" if isinstance(argument, list) else str(getattr(argument, "name", argument))


def valid(sheet: Written) -> list[str]:
    return schema.faults(sheet.path.read_bytes())


def clean(sheet: Written) -> list[str]:
    return lint.faults(sheet.path.read_bytes())


def packed(sheet: Written) -> list[str]:
    archive = sheet.path.with_suffix(".mxl").read_bytes()
    return lint.container_faults(archive, sheet.path.name, sheet.path.read_bytes())


def music21(sheet: Written) -> list[str]:
    return Sheet.told(sheet.told).differences(by_music21.read(str(sheet.path)))


def partitura(sheet: Written) -> list[str]:
    told, read = Sheet.told(sheet.told), by_partitura.read(str(sheet.path))
    if told.slashes:
        read.notes = None
    return told.differences(read)


def verovio(sheet: Written) -> list[str]:
    return Sheet.told(sheet.told).differences(by_verovio.read(str(sheet.path)))


def drawn_alike(sheet: Path, pages: list[Path]) -> list[str]:
    return engraved.faults(sheet, pages)


def faults_seen(sheet: Path, pages: list[Path]) -> list[str]:
    return engraved.unseen(sheet, pages)


def by_hand(case: expectation.Case, program: Program, folder: Path) -> list[str]:
    return expectation.faults(case, program, folder)


def form(name: str, program: Program, folder: Path) -> list[str]:
    [one] = [one for one in forms.forms() if one.name == name]
    return forms.faults(one, program, folder)


def over_changes(lesson: str, program: Program, folder: Path) -> list[str]:
    return over.faults(lesson, program, folder)


def over_spoiled(spoil: str, program: Program, folder: Path) -> list[str]:
    return over.unseen(spoil, program, folder)


def charted(path: Path, program: Program, folder: Path) -> list[str]:
    return lead_sheets.faults(path, program, folder)


def understood(measured: list) -> list[str]:
    return understanding.faults(measured)


def chord(one: dict, program: Program, folder: Path) -> list[str]:
    return chord_meaning.faults(one, program, folder)


def mixed(text: str, program: Program, folder: Path) -> list[str]:
    return mixture.faults(text, program, folder)


def bound(lesson: str, program: Program, folder: Path) -> list[str]:
    return together.faults(LESSONS / f"{lesson}.toml", program, folder)


def course(path: Path, program: Program, folder: Path) -> list[str]:
    return courses.faults(path, program, folder)


def spoiled(spoil: str, sheet: Written, folder: Path) -> list[str]:
    return spoiling.unseen(spoil, sheet, folder)


def heard(track: tracks.Played) -> list[str]:
    return tracks.faults(track)


def read_alike(track: tracks.Played) -> list[str]:
    return tracks.unread(track)


def audible(path: Path) -> list[str]:
    return tracks.unheard(path)


def distinct(sheets: list[Written]) -> list[str]:
    """No two sheets of a player are the same, and each key has its own."""
    seen = {}
    return [f"{sheet.name} is {seen[data].name}" for sheet in sheets if seen.setdefault(data := sheet.path.read_bytes(), sheet) is not sheet]


if __name__ == "__main__":
    sys.exit(main())
