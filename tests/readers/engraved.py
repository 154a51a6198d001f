"""Our pages beside those of an independent engraver (Verovio 6.4.1) that draws our MusicXML: mark by mark, bar by bar.

What is compared: every head and its line or space, accidentals with their brackets, stems' directions, flags, dots, rests,
ledger lines, beams, tuplets' numbers, slashes, clefs and signatures at the beginning of each system, ties and slurs. Rules
on which the two engravers differ on purpose are told under RULES, each counted and none silent.

    python engraved.py BINARY FOLDER        every lesson for six instruments in all keys, all random lessons; a long time
"""

import collections
import random
import re
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import verovio
from lxml import etree

verovio.enableLog(verovio.LOG_OFF)
SVG = "{http://www.w3.org/2000/svg}"
OPTIONS = {"breaks": "encoded", "header": "none", "footer": "none", "adjustPageHeight": True, "pageHeight": 60000, "pageWidth": 2400, "svgRemoveXlink": True}

# Transposing and not, treble and bass, high and low.
HORNS = ("flute", "alto-saxophone", "b-flat-trumpet", "horn-in-f", "tenor-saxophone", "trombone")

# Where the two differ by a rule of ours (common practice, from memory), by kind.
RULES = {
    "stem of a group that reaches as far above as below": "the majority decides, then down; there the mean does",
    "stem of a slash": "on the middle line, so down; there up or down by its beam",
    "courtesy accidental in parentheses": "there a cautionary one has none unless the file asks for them",
}


@dataclass
class Note:
    """A head, rest or slash."""

    head: str
    place: int | None = None
    accidentals: tuple = ()
    stem: str | None = None
    flag: str | None = None
    dots: int = 0

    def same(self, other: "Note") -> list[str]:
        return [kind for kind in ("head", "place", "accidentals", "stem", "flag", "dots") if getattr(self, kind) != getattr(other, kind)]


@dataclass
class Bar:
    notes: list = field(default_factory=list)
    beams: int = 0
    tuplets: list = field(default_factory=list)
    ledgers: set = field(default_factory=set)
    # The places of the notes under each beam.
    groups: list = field(default_factory=list)


@dataclass
class Drawn:
    bars: list = field(default_factory=list)
    # Clef and signature at the beginning of each system: the codes of their glyphs with their places.
    systems: list = field(default_factory=list)
    ties: int = 0
    slurs: int = 0


def faults(sheet: Path, pages: list[Path], counts: Counter | None = None) -> list[str]:
    """Where the two differ, but for RULES."""
    counts = counts if counts is not None else Counter()
    theirs, ours = read_theirs(sheet), read_ours(sheet, pages)
    found = []
    for number, one, other in zip(numbers(sheet), ours.bars, theirs.bars):
        found += [f"bar {number}: {fault}" for fault in bar_faults(one, other, counts)]
    if len(ours.bars) != len(theirs.bars):
        found.append(f"{len(ours.bars)} bars and {len(theirs.bars)}")
    counts["bars"] += len(ours.bars)
    if len(ours.systems) == len(theirs.systems):
        counts["systems"] += len(ours.systems)
        found += [f"system {place}: {a} and {b}" for place, (a, b) in enumerate(zip(ours.systems, theirs.systems), 1) if a != b]
        for kind in ("ties", "slurs"):
            counts[kind] += getattr(ours, kind)
            if getattr(ours, kind) != getattr(theirs, kind):
                found.append(f"{getattr(ours, kind)} {kind} and {getattr(theirs, kind)}")
    else:
        counts["sheets on which ours has more systems"] += 1
        if len(ours.systems) < len(theirs.systems):
            found.append(f"{len(ours.systems)} systems and {len(theirs.systems)}")
    return found


def bar_faults(ours: Bar, theirs: Bar, counts: Counter) -> list[str]:
    found = []
    if len(ours.notes) != len(theirs.notes):
        return [f"{len(ours.notes)} notes and {len(theirs.notes)}"]
    for place, (one, other) in enumerate(zip(ours.notes, theirs.notes), 1):
        counts["heads, rests and slashes"] += 1
        counts["accidentals"] += len([code for code in one.accidentals if code not in BRACKETS])
        counts["stems"] += one.stem is not None
        counts["flags"] += one.flag is not None
        counts["dots"] += one.dots
        for kind in one.same(other):
            if kind == "stem" and balanced(ours, one):
                counts["by rule: stem of a group that reaches as far above as below"] += 1
            elif kind == "accidentals" and other.accidentals == tuple(code for code in one.accidentals if code not in BRACKETS):
                counts["by rule: courtesy accidental in parentheses"] += 1
            elif kind in ("stem", "flag") and one.head in SLASHES:
                counts["by rule: stem of a slash"] += 1
            else:
                found.append(f"note {place}: {kind} {getattr(one, kind)} and {getattr(other, kind)}")
    counts["beams"] += ours.beams
    if ours.beams != theirs.beams:
        found.append(f"{ours.beams} beams and {theirs.beams}")
    counts["tuplets"] += len(ours.tuplets)
    if ours.tuplets != theirs.tuplets:
        found.append(f"tuplets {ours.tuplets} and {theirs.tuplets}")
    counts["ledger lines"] += len(ours.ledgers)
    if ours.ledgers != theirs.ledgers:
        found.append(f"ledger lines {sorted(ours.ledgers)} and {sorted(theirs.ledgers)}")
    return found


SLASHES = ("E101", "E102", "E103")
BRACKETS = ("E26A", "E26B")


def balanced(bar: Bar, note: Note) -> bool:
    """Whether it is in a group whose farthest notes are as far above the middle line as below."""
    for group in bar.groups:
        if any(one is note for one in group):
            away = [one.place - 4 for one in group]
            return max(away) == -min(away)
    return note.place == 4


def numbers(sheet: Path) -> list[str]:
    part = etree.parse(str(sheet)).find("part")
    return [measure.get("number") for measure in part.iter("measure")]


# --- theirs


def read_theirs(sheet: Path) -> Drawn:
    toolkit = verovio.toolkit()
    toolkit.setOptions(OPTIONS)
    if not toolkit.loadFile(str(sheet)):
        raise ValueError(f"Verovio can't load {sheet}")
    drawn = Drawn()
    for page in range(1, toolkit.getPageCount() + 1):
        root = etree.fromstring(toolkit.renderToSVG(page).encode(), etree.XMLParser(huge_tree=True))
        for system in of_class(root, "system"):
            begins = True
            for measure in of_class(system, "measure"):
                drawn.bars.append(their_bar(measure))
                if begins:
                    drawn.systems.append(their_opening(measure))
                begins = False
            drawn.ties += sum(1 for tie in of_class(system, "tie") if tie.find(f"{SVG}path") is not None)
            drawn.slurs += sum(1 for slur in of_class(system, "slur") if slur.find(f"{SVG}path") is not None)
    return drawn


def of_class(root, name: str) -> list:
    return [one for one in root.iter(f"{SVG}g") if name in (one.get("class") or "").split()]


def uses(root) -> list[tuple[str, int, int]]:
    """Code and place of each glyph."""
    found = []
    for use in root.iter(f"{SVG}use"):
        x, y = re.findall(r"-?\d+", use.get("transform") or "0 0")[:2] if use.get("transform") else (use.get("x"), use.get("y"))
        found.append((use.get("href")[1:5], int(x), int(y)))
    return found


def staff_lines(measure) -> list[int]:
    [staff] = of_class(measure, "staff")
    return [int(re.findall(r"-?\d+", path.get("d"))[1]) for path in staff.findall(f"{SVG}path")[:5]]


def their_bar(measure) -> Bar:
    lines = staff_lines(measure)
    top, unit = lines[0], (lines[4] - lines[0]) / 8

    def place(y: float) -> int:
        return round(8 - (y - top) / unit)

    bar = Bar()
    for one in measure.iter(f"{SVG}g"):
        kinds = (one.get("class") or "").split()
        if "note" in kinds:
            bar.notes.append(their_note(one, place))
        elif "rest" in kinds or "mRest" in kinds:
            codes = uses(one)
            if codes:
                dots = len([ellipse for group in of_class(one, "dots") for ellipse in group.iter(f"{SVG}ellipse")])
                bar.notes.append(Note(head=codes[0][0], dots=dots))
        elif "beam" in kinds:
            bar.beams += their_beams(one)
        elif "tupletNum" in kinds:
            bar.tuplets.append("".join(code for code, _, _ in uses(one)))
        elif "ledgerLines" in kinds:
            for path in one.findall(f"{SVG}path"):
                bar.ledgers.add(place(int(re.findall(r"-?\d+", path.get("d"))[1])))
    return bar


def their_beams(group) -> int:
    """The beams of a group: some are drawn in pieces that lie end to end."""
    pieces = []
    for polygon in group.iter(f"{SVG}polygon"):
        corners = [tuple(int(number) for number in corner.split(",")) for corner in polygon.get("points").split()]
        left, right = min(x for x, _ in corners), max(x for x, _ in corners)
        pieces.append(((left, min(y for x, y in corners if x == left)), (right, min(y for x, y in corners if x == right))))
    begins = {begin for begin, _ in pieces}
    return len(pieces) - sum(1 for _, end in pieces if end in begins)


def their_note(one, place) -> Note:
    [head] = of_class(one, "notehead")
    # A ghosted head stands in parentheses (SMuFL accidentalParensLeft, accidentalParensRight).
    [(code, _, y)] = [use for use in uses(head) if use[0] not in ("E26A", "E26B")]
    note = Note(head=code, place=place(y))
    note.accidentals = tuple(sorted(code for group in of_class(one, "accid") for code, _, _ in uses(group)))
    for stem in of_class(one, "stem"):
        path = stem.find(f"{SVG}path")
        if path is not None:
            _, begin, _, end = (int(number) for number in re.findall(r"-?\d+", path.get("d")))
            note.stem = "up" if min(begin, end) < y - 200 else "down"
    flags = [code for group in of_class(one, "flag") for code, _, _ in uses(group)]
    note.flag = flags[0] if flags else None
    note.dots = len([ellipse for group in of_class(one, "dots") for ellipse in group.iter(f"{SVG}ellipse")])
    return note


def their_opening(measure) -> list[tuple[str, int]]:
    lines = staff_lines(measure)
    unit = (lines[4] - lines[0]) / 8
    [staff] = of_class(measure, "staff")
    # A bar that has its system to itself has the courtesy signature too, after its notes.
    sounding = [group for kind in ("note", "rest", "mRest") for group in of_class(staff, kind)]
    first = min((x for group in sounding for _, x, _ in uses(group)), default=1 << 30)
    signs = []
    for group in staff.findall(f"{SVG}g"):
        if (group.get("class") or "").split()[:1] in (["clef"], ["keySig"]):
            signs += [(code, round(8 - (y - lines[0]) / unit)) for code, x, y in uses(group) if x < first]
    return signs


# --- ours


def read_ours(sheet: Path, pages: list[Path]) -> Drawn:
    order = numbers(sheet)
    bars = {number: Bar() for number in order}
    drawn = Drawn(bars=[bars[number] for number in order])
    for page in pages:
        root = etree.fromstring(page.read_bytes(), etree.XMLParser(huge_tree=True))
        for system in of_class(root, "system"):
            our_system(system, bars, drawn)
    return drawn


def our_system(system, bars: dict, drawn: Drawn) -> None:
    # A note's stem and its bar, to find what belongs to the bar by its place.
    stems: list[tuple[int, Bar, Note]] = []
    middles: list[tuple[int, Bar]] = []
    for group in system.iter(f"{SVG}g"):
        if group.get("class") not in ("note", "silence"):
            continue
        bar = bars[group.get("data-bar")]
        note, x = our_note(group, bar)
        bar.notes.append(note)
        middles.append((x, bar))
        stems += [(stem, bar, note) for stem in our_stems(group)]
    first = min((x for x, _ in middles), default=1 << 30)
    opening = [(code, place_of(y)) for code, kind, x, y in glyphs(system) if kind in ("clef", "signature") and x < first]
    drawn.systems.append(opening)
    for path in system.findall(f"{SVG}path"):
        kind = path.get("class")
        drawn.ties += kind == "tie"
        drawn.slurs += kind == "slur"
        if kind == "beam":
            xs = [int(number) for number in re.findall(r"-?\d+", path.get("d"))][0::2]
            inside = [(bar, note) for x, bar, note in stems if min(xs) - 90 <= x <= max(xs) + 90]
            if inside:
                inside[0][0].beams += 1
                if len(inside) > 1:
                    inside[0][0].groups.append([note for _, note in inside])
    # A tuplet's digits stand over its notes; those side by side are one number.
    digits = sorted((x, code) for code, kind, x, _ in glyphs(system) if kind == "tuplet")
    grouped: list[list[tuple[int, str]]] = []
    for x, code in digits:
        if grouped and x - grouped[-1][-1][0] < 1500:
            grouped[-1].append((x, code))
        else:
            grouped.append([(x, code)])
    for group in grouped:
        _, bar = min(middles, key=lambda middle: abs(middle[0] - group[0][0]))
        bar.tuplets.append("".join(code for _, code in group))


def glyphs(root) -> list[tuple[str, str, int, int]]:
    """Code, class and place of what stands outside of notes."""
    found = []
    for use in root.findall(f"{SVG}use"):
        found.append((use.get("href")[-4:], use.get("class"), int(use.get("x")), int(use.get("y"))))
    return found


def place_of(y: float) -> int:
    return round((4000 - y) / 500)


def our_note(group, bar: Bar) -> tuple[Note, int]:
    marks = glyphs(group)
    [(head, _, x, y)] = [mark for mark in marks if mark[1] in ("notehead", "rest", "slash")]
    note = Note(head=head)
    if group.get("class") == "note":
        note.place = place_of(y)
    note.accidentals = tuple(sorted(code for code, kind, _, _ in marks if kind == "accidental"))
    note.dots = len([1 for _, kind, _, _ in marks if kind == "dot"])
    flags = [code for code, kind, _, _ in marks if kind == "flag"]
    note.flag = flags[0] if flags else None
    for stem in group.findall(f"{SVG}rect"):
        top, height = int(stem.get("y")), int(stem.get("height"))
        if stem.get("class") == "stem":
            note.stem = "up" if top < y - 1000 else "down"
        if stem.get("class") == "ledger":
            bar.ledgers.add(place_of(top + height / 2))
    return note, x


def our_stems(group) -> list[int]:
    return [int(rect.get("x")) + 60 for rect in group.findall(f"{SVG}rect") if rect.get("class") == "stem"]


# --- what is drawn


def drawings(program, lesson: Path, folder: Path, *options: str) -> list[tuple[Path, list[Path]]]:
    """A lesson's sheets in the horns' keys, each with its pages."""
    command = ["write", str(lesson), "--out", str(folder), "--format", "musicxml,svg", *options]
    program.run(command, allowed=(0, 3))
    found = []
    for sheet in sorted(folder.rglob("*.musicxml")):
        stem = sheet.with_suffix("")
        pages = [one for one in sorted(sheet.parent.glob(f"{stem.name}.*svg")) if re.fullmatch(r"(page-\d+\.)?svg", one.name[len(stem.name) + 1 :])]
        if pages:
            found.append((sheet, pages))
    return found


def unseen(sheet: Path, pages: list[Path]) -> list[str]:
    """Our first page with one thing wrong: each must be found."""
    text = pages[0].read_text(encoding="utf-8")
    spoils = {
        "a head a step higher": (r'(class="notehead" href="[^"]*" x="\d+" y=")(-?\d+)', lambda found: found[1] + str(int(found[2]) - 500)),
        "a beam left out": (r'<path class="beam"[^>]*/>', ""),
        "a sign of the signature left out": (r'<use class="signature"[^>]*/>', ""),
        "an accidental of another kind": (r'(class="accidental" href="[^"]*-)E262', r"\1E260"),
        "a ledger line left out": (r'<rect class="ledger"[^>]*/>', ""),
        "a stem the other way": (r'(class="stem" x="\d+" y=")(-?\d+)', lambda found: found[1] + str(int(found[2]) - 6000)),
    }
    missed = []
    for what, (pattern, other) in spoils.items():
        changed = re.sub(pattern, other, text, count=1)
        if changed == text:
            continue
        spoiled = pages[0].with_suffix(".spoiled")
        spoiled.write_text(changed, encoding="utf-8")
        if not faults(sheet, [spoiled, *pages[1:]]):
            missed.append(what)
    return missed


def main() -> int:
    import mixture
    from program import Program

    program, folder = Program(Path(sys.argv[1])), Path(sys.argv[2])
    lessons = Path(__file__).parents[2] / "fixtures" / "lessons"
    horns = [option for horn in HORNS for option in ("--instrument", horn)]
    jobs = [(lesson, folder / lesson.stem, horns) for lesson in sorted(lessons.glob("*.toml"))]
    texts = mixture.lessons(program, count=100)
    for place, text in enumerate(texts):
        path = folder / "mixture" / f"{place}.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        jobs.append((path, folder / "mixture" / str(place), []))
    counts, kinds, sheets = Counter(), collections.Counter(), 0
    share = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    for lesson, out, options in jobs:
        drawn = drawings(program, lesson, out, *options)
        if not options:
            # One player, two keys.
            drawn = [pair for pair in drawn if pair[0].parent == drawn[0][0].parent][:2]
        for sheet, pages in drawn if share == 1 else random.Random(str(lesson)).sample(drawn, max(1, len(drawn) // share)):
            sheets += 1
            for fault in faults(sheet, pages, counts):
                kinds[re.sub(r"\d+", "#", fault)] += 1
                print(f"{sheet.relative_to(folder)}: {fault}", flush=True)
    print(f"{sheets} sheets")
    for kind, count in sorted(counts.items()):
        print(f"{count:8} {kind}")
    for kind, count in kinds.most_common(40):
        print(f"DIFFERENT {count:6} {kind}")
    return 1 if kinds else 0


if __name__ == "__main__":
    sys.exit(main())
