"""Chords of every score with chord symbols in the corpus that music21 brings along, repeats and jumps played out: what the
program's sheet plays over, beat by beat, against music21's own reading of the file.

    python lead_sheets.py BINARY FOLDER

The tunes in ABC among them are written as MusicXML by music21 first. Prints where the two differ. No score is kept in the project."""

import re
import sys
import warnings
from fractions import Fraction
from pathlib import Path
from zipfile import ZipFile

from music21 import bar as barline
from music21 import converter, corpus, harmony, key, stream

from program import Program

# Where the two differ, by file and quarter, and who is right. Each is told as a guess when the file is read, but for the name.
KNOWN = {
    "ComprehensiveChordSymbolsTestFile.mxl": {
        40: "“minor-major” is no kind of the standard: the text mMaj7 says more than music21's bare root",
        68: "music21 is right: a major 11th has an 11th; the catalogue has none, and the nearest, maj9, is taken",
        72: "both: G flat minor is written F sharp minor, which sounds the same",
        144: "music21 is right, as at 68",
        204: "music21 is right: the fifth is left out; the catalogue has no such chord",
        208: "music21 is right: the third is left out; the catalogue has no such chord",
        212: "both in part: the degrees stand in one element, of which music21 reads the last and we the first",
        216: "the standard leaves a Neapolitan's tones open: we take the major triad on its root",
        220: "the kind is misspelled: music21 reads no chord, we the half-diminished one that Tristan's sounds as",
        224: "the standard leaves an Italian sixth's root open: music21 takes it for the tonic, we for the chord's own",
    },
}

# Tunes whose parts each end with a repeat that opens nowhere. We are right: such a part begins after the repeat before it (common
# practice), and a pickup is heard once, at the end of the bar that it completes; music21 goes back to the very beginning each
# time, and adds the pickup to a whole bar. So only the order of their chords is compared, each part played twice.
UNOPENED = ("reelsa-c-80", "reelsa-c-81", "americanfifeopus-111")

SCORES = (".mxl", ".xml", ".musicxml")


def tunes(folder: Path, collection: str = "") -> list[Path]:
    """Tunes in ABC with what looks like chord symbols, as music21 writes them; those it can't write, or finds no chords in, are
    left out. All of them take minutes, a collection's moments."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for path in sorted(map(Path, map(str, corpus.getCorePaths()))):
        if collection not in path.parts and collection:
            continue
        text = path.read_text(encoding="utf-8", errors="replace") if path.suffix == ".abc" else ""
        for tune in re.split(r"\n(?=X: *\d)", "\n" + text):
            music = "\n".join(line for line in tune.splitlines() if not re.match(r"[A-Za-z]:|%", line))
            if not re.search(r'"[A-G]', music):
                continue
            number = re.search(r"X: *(\d+)", tune)[1]
            to = folder / f"{path.stem}-{number}.musicxml"
            try:
                with warnings.catch_warnings():
                    warnings.simplefilter("ignore")
                    score = converter.parse(tune.strip() + "\n", format="abc")
                    score = score.scores[0] if isinstance(score, stream.Opus) else score
                    score.write("musicxml", to)
            except Exception:
                continue
            if b"<harmony" in to.read_bytes():
                written.append(to)
    return written


def files() -> list[Path]:
    """Scores with chord symbols, by their own text."""
    def text(path: Path) -> bytes:
        if path.suffix != ".mxl":
            return path.read_bytes()
        with ZipFile(path) as archive:
            return b"".join(archive.read(name) for name in archive.namelist() if name.endswith((".xml", ".musicxml")))

    paths = sorted(map(Path, map(str, corpus.getCorePaths())))
    return [path for path in paths if path.suffix in SCORES and b"<harmony" in text(path)]


def faults(path: Path, program: Program, folder: Path) -> list[str]:
    """Where the chord differs, but for what is known; and what is known but doesn't differ any more."""
    found, known = differences(path, program, folder), KNOWN.get(path.name, {})
    gone = [f"{path.name} at {at}: differs no more" for at in known if at not in found]
    return [said for at, said in found.items() if at not in known] + gone


def differences(path: Path, program: Program, folder: Path) -> dict[Fraction, str]:
    """By the quarter from which on the chords differ."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        part = part_with_chords(converter.parse(path, forceSource=True))
        signature = part.flatten().getElementsByClass(key.KeySignature).first()
        fifths = signature.sharps if signature else 0
        mode = getattr(signature, "mode", "major")
        tonic = key.KeySignature(fifths).asKey(mode if mode in ("major", "minor") else "major").tonic.name.replace("-", "b")
        theirs = in_parts(part) if path.stem in UNOPENED else chords(part.expandRepeats())
        folder.mkdir(parents=True, exist_ok=True)
        (folder / path.name).write_bytes(path.read_bytes())
        lesson = folder / "lead.toml"
        lesson.write_text(text(path.name, tonic), encoding="utf-8")
        [sheet] = program.write(lesson, folder / "out")
        ours = chords(converter.parse(sheet.path, forceSource=True).parts[0])
    if path.stem in UNOPENED:
        ours = [(Fraction(place), chord) for place, (_, chord) in enumerate(ours)]
    if not theirs or not ours:
        return {Fraction(0): f"{path.name}: music21 has {len(theirs)} chords, the sheet {len(ours)}"}
    # A pickup without a chord isn't played.
    late = opening(theirs) - opening(ours)
    ours = [(onset + late, chord) for onset, chord in ours]
    first = min(theirs[0][0], ours[0][0])
    last = max(theirs[-1][0], ours[-1][0])
    beats = [first + Fraction(beat, 2) for beat in range(int((last - first) * 2) + 1)]
    pairs = [(beat, at(theirs, beat), at(ours, beat)) for beat in beats]
    found = []
    for beat, their, our in pairs:
        if their != our and (not found or found[-1][1:] != (their, our)):
            found.append((beat, their, our))
    return {beat: f"{path.name} at {beat}: music21 {their}, the sheet {our}" for beat, their, our in found}


def part_with_chords(score) -> stream.Part:
    parts = list(score.parts) or [score]
    return next((part for part in parts if part.recurse().getElementsByClass(harmony.Harmony)), parts[0])


def chords(part) -> list:
    """(onset, root and pitch classes), in order; the same chord again is one."""
    found = []
    for one in part.flatten().getElementsByClass(harmony.Harmony):
        chord = (one.root().name, tuple(sorted({pitch.pitchClass for pitch in one.pitches}))) if one.pitches else None
        if not found or found[-1][1] != chord:
            found.append((Fraction(one.offset), chord))
    return found


def in_parts(part) -> list:
    """The chords in order, each part twice that a repeat closes, by their place."""
    played, under_way = [], []
    for bar in part.getElementsByClass(stream.Measure):
        under_way += [chord for _, chord in chords(bar)]
        if isinstance(bar.rightBarline, barline.Repeat):
            played += 2 * under_way
            under_way = []
    alone = [chord for place, chord in enumerate(played + under_way) if place == 0 or chord != (played + under_way)[place - 1]]
    return [(Fraction(place), chord) for place, chord in enumerate(alone)]


def opening(found: list) -> Fraction:
    """Where the first chord stands."""
    return next((onset for onset, chord in found if chord), found[0][0])


def at(found: list, beat: Fraction):
    return next((chord for onset, chord in reversed(found) if onset <= beat), None)


def text(name: str, tonic: str) -> str:
    return f"""
title = "Over a chart"
instruments = ["flute"]
[keys]
only = ["{tonic}"]
[figure]
moves = "start, step up"
[changes]
lead_sheet = "{name}"
[[exercise]]
kind = "guide tones"
"""


def main() -> None:
    program, folder = Program(Path(sys.argv[1])), Path(sys.argv[2])
    for path in files() + tunes(folder / "tunes"):
        found = differences(path, program, folder)
        print(path.name, len(found))
        for at, line in found.items():
            print("   ", line, "--", KNOWN.get(path.name, {}).get(at, "new"))


if __name__ == "__main__":
    main()
