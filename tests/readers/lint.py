"""What the schema can't see: a plain reading of the file, with everything that a player would stumble over worked out
again from the pitches and lengths alone. Rules by common practice; where the sheet has a choice, the choice its own
documents promise."""

import io
import zipfile
from collections import Counter
from fractions import Fraction

from lxml import etree

from schema import PARSER

TYPES = {"breve": 8, "whole": 4, "half": 2, "quarter": 1, "eighth": Fraction(1, 2), "16th": Fraction(1, 4), "32nd": Fraction(1, 8), "64th": Fraction(1, 16)}
BEAMS = {"eighth": 1, "16th": 2, "32nd": 3, "64th": 4}
SIGNS = {"flat-flat": -2, "flat": -1, "natural": 0, "sharp": 1, "double-sharp": 2}
# Children of a measure in the order that every reader takes: prose of the standard, not in its schema.
ORDER = ["print", "attributes", "music", "barline"]
GROUPS = {"5/4": [2, 3], "5/8": [2, 3], "7/8": [2, 2, 3]}


def faults(data: bytes) -> list[str]:
    root = etree.fromstring(data, PARSER)
    parts = root.findall("part")
    found = [] if len(parts) == 1 else [f"{len(parts)} parts"]
    numbers = [measure.get("number") for measure in root.iter("measure")]
    found += [f"measure number {number} twice" for number, count in Counter(numbers).items() if count > 1]
    return found + [fault for part in parts for fault in Reading().part(part)]


def container_faults(data: bytes, name: str, document: bytes) -> list[str]:
    """What is wrong with an .mxl that should hold a document."""
    archive = zipfile.ZipFile(io.BytesIO(data))
    first, *rest = archive.infolist()
    found = []
    if first.filename != "mimetype" or first.compress_type != zipfile.ZIP_STORED or first.extra:
        found.append("mimetype isn't first, stored and bare")
    if archive.read("mimetype") != b"application/vnd.recordare.musicxml":
        found.append("another mimetype")
    root = etree.fromstring(archive.read("META-INF/container.xml"))
    paths = [one.get("full-path") for one in root.iter("{*}rootfile")]
    if paths != [name] or [one.filename for one in rest] != ["META-INF/container.xml", name]:
        found.append(f"holds {[one.filename for one in rest]}, names {paths}")
    elif archive.read(name) != document:
        found.append("holds another document")
    return found


class Reading:
    """One part, read from its first measure to its last."""

    def __init__(self):
        self.found = []
        self.divisions = None
        self.fifths = 0
        self.meter = None
        self.tie = None  # (step, alter, octave) that a tie waits for
        self.tuplet = None  # (sum of lengths, normal length) of an open tuplet
        self.slur = False  # whether one is open
        self.before = {}  # what each letter and octave last was in the bar before
        self.where = "?"

    def part(self, part) -> list[str]:
        measures = part.findall("measure")
        for place, measure in enumerate(measures):
            self.where = f"measure {measure.get('number')}"
            self.order(measure)
            self.attributes(measure.find("attributes"))
            self.bar(measure, [Note(note, self.divisions) for note in measure.findall("note")])
            if measure.find("barline/bar-style") is not None and not goes_on(measures[place + 1 :], measures):
                self.before = {}  # another exercise follows
        if self.tie:
            self.say("a tie leads nowhere")
        if self.slur:
            self.say("a slur leads nowhere")
        last = part.findall("measure")[-1].find("barline/bar-style")
        if last is None or last.text != "light-heavy":
            self.say("no final bar line")
        return self.found

    def say(self, fault: str) -> None:
        self.found.append(f"{self.where}: {fault}")

    def order(self, measure) -> None:
        kinds = [child.tag if child.tag in ORDER else "music" for child in measure]
        ranks = [ORDER.index(kind) for kind in kinds]
        if ranks != sorted(ranks):
            self.say(f"order {kinds}")
        tags = [child.tag for child in measure]
        if tags and tags[-1] == "harmony":
            self.say("a chord symbol after the last note")
        for tag in ("backup", "forward", "sound"):
            if tag in tags:
                self.say(f"has {tag}")

    def attributes(self, attributes) -> None:
        if attributes is None:
            return
        if attributes.find("divisions") is not None:
            if self.divisions is not None:
                self.say("divisions again")
            self.divisions = int(attributes.findtext("divisions"))
        elif self.divisions is None:
            self.say("no divisions")
        clef = attributes.find("clef")
        if clef is not None:
            # Steps from C0 to the middle line: a clef's sign names its own line, two steps to the next.
            own = {"G": 32, "F": 24, "C": 28}[clef.findtext("sign")]
            octaves = int(clef.findtext("clef-octave-change", "0"))
            self.middle = own + 2 * (3 - int(clef.findtext("line"))) + 7 * octaves
        if attributes.find("key") is not None:
            self.fifths = int(attributes.findtext("key/fifths"))
            self.before = {}
        if attributes.find("time") is not None:
            self.meter = f"{attributes.findtext('time/beats')}/{attributes.findtext('time/beat-type')}"

    def bar(self, measure, notes: list) -> None:
        upper, lower = (int(number) for number in self.meter.split("/"))
        length, full = sum(note.length for note in notes), Fraction(4 * upper, lower)
        if measure.get("implicit") == "yes":
            if not 0 < length < full:
                self.say(f"a pickup of {length} quarters")
        elif length != full:
            self.say(f"holds {length} quarters of {full}")
        # A pickup's notes stand at its bar's end.
        at = full - length if measure.get("implicit") == "yes" else Fraction(0)
        for note in notes:
            note.at = at
            at += note.length
            self.values(note)
            self.ties(note)
            self.tuplets(note)
            self.beats(note, full)
            self.heads(note)
            self.marks(note)
        for note, following in zip(notes, notes[1:]):
            if "breath-mark" in note.signs and not following.pitch:
                self.say(f"a breath mark before a rest at {following.at}")
        self.accidentals([note for note in notes if note.pitch and not note.slash])
        self.beams(notes)

    def values(self, note) -> None:
        if note.whole_bar:
            if note.type is not None or note.at != 0:
                self.say("a bar's rest with a value, or not alone")
        elif note.type is None:
            self.say(f"no value at {note.at}")
        elif note.value() != note.length:
            self.say(f"{note.type} with {note.dots} dots at {note.at} lasts {note.length}")
        if note.dots and not note.pitch and self.simple() and not note.ratio and not note.hidden:
            self.say(f"a dotted rest at {note.at}")

    def heads(self, note) -> None:
        """Only rests are hidden; a slash stands on the middle line and shows no sign."""
        if note.hidden and note.pitch:
            self.say(f"a hidden note at {note.at}")
        if not note.slash:
            if note.stemless:
                self.say(f"a note without a stem at {note.at}")
            return
        step, alter, octave = note.pitch
        if "CDEFGAB".index(step) + 7 * octave != self.middle:
            self.say(f"a slash on {note.pitch} at {note.at}")
        if note.sign is not None or alter != signature_alter(self.fifths, step):
            self.say(f"a slash at {note.at} that wants a sign")

    def marks(self, note) -> None:
        """Slurs end before they begin and never overlap; nobody breathes in one; only notes are marked."""
        if (note.signs or note.slurs) and not note.pitch:
            self.say(f"marks {note.signs + note.slurs} on a rest at {note.at}")
        for slur in note.slurs:
            if (slur == "stop") != self.slur:
                self.say(f"a slur's {slur} at {note.at}")
            self.slur = slur == "start"
        if self.slur and "breath-mark" in note.signs:
            self.say(f"a breath inside a slur at {note.at}")

    def ties(self, note) -> None:
        if note.ties != note.tieds:
            self.say(f"tie {note.ties} and tied {note.tieds} at {note.at}")
        if ("stop" in note.ties) != (self.tie is not None) or self.tie not in (None, note.pitch):
            self.say(f"a tie from {self.tie} to {note.pitch} at {note.at}")
        self.tie = note.pitch if "start" in note.ties else None

    def tuplets(self, note) -> None:
        if note.tuplet == "start":
            if self.tuplet is not None:
                self.say(f"a tuplet in a tuplet at {note.at}")
            self.tuplet = Fraction(0)
        if (self.tuplet is not None) != bool(note.ratio):
            self.say(f"a note at {note.at} with a tuplet's ratio and no tuplet, or the other way round")
        if self.tuplet is not None:
            self.tuplet += note.length
        if note.tuplet == "stop":
            # A whole tuplet fills a plain value, a half beat, a beat, two; or a dotted one where beats are dotted.
            whole = self.tuplet / 3 if self.tuplet is not None and not self.simple() and note.ratio.numerator % 3 == 0 else self.tuplet
            if whole is not None and whole.numerator & (whole.numerator - 1):
                self.say(f"a tuplet of {self.tuplet} quarters ends at {note.at}")
            self.tuplet = None

    def simple(self) -> bool:
        return self.meter not in GROUPS and not (int(self.meter.split("/")[0]) % 3 == 0 and self.meter != "3/4")

    def beats(self, note, full: Fraction) -> None:
        """Nothing hides the middle of a 4/4 bar but what may."""
        if self.meter != "4/4" or note.whole_bar or note.hidden:
            return
        end = note.at + note.length
        if note.at < 2 < end and not (note.pitch and note.length >= 2 and note.at in (0, 1)):
            self.say(f"{note.type} at {note.at} hides beat 3")
        if not note.pitch and note.type == "half" and note.at not in (0, 2):
            self.say(f"a half rest at {note.at}")

    def accidentals(self, notes: list) -> None:
        """Each sign as the bar's rule wants it; a courtesy where one is promised, and nowhere else."""
        now, heard = {}, {}
        for note in notes:
            step, alter, octave = note.pitch
            line = (step, octave)
            known = now.get(line, signature_alter(self.fifths, step))
            needed = known != alter and not ("stop" in note.ties and line not in now)
            if note.sign is not None and SIGNS[note.sign] != alter:
                self.say(f"{note.sign} on {note.pitch} at {note.at}")
            if needed and (note.sign is None or note.courtesy):
                self.say(f"no accidental on {note.pitch} at {note.at}")
            if not needed:
                self.courtesy(note, now)
            if not ("stop" in note.ties and line not in now):
                now[line] = alter
            heard[line] = alter
        self.before = heard

    def courtesy(self, note, now: dict) -> None:
        step, alter, octave = note.pitch
        if note.sign is not None and not note.courtesy:
            self.say(f"a needless {note.sign} on {note.pitch} at {note.at}")
        if "stop" in note.ties:
            return
        line = (step, octave)
        from_before = line not in now and self.before.get(line, alter) != alter
        other_octave = any(at[0] == step and at != line and was != alter for at, was in now.items())
        if from_before and note.sign is None:
            self.say(f"no courtesy on {note.pitch} at {note.at} after the bar before")
        if note.courtesy and not (from_before or other_octave):
            self.say(f"a courtesy for nothing on {note.pitch} at {note.at}")

    def beams(self, notes: list) -> None:
        groups, current = [], []
        for note in notes:
            wanted = BEAMS.get(note.type, 0)
            if len(note.beams) > wanted or (note.beams and not note.pitch):
                self.say(f"beams {note.beams} on {note.type} at {note.at}")
            first = note.beams.get(1)
            if current and first in (None, "begin"):
                self.say(f"a beam from {current[0].at} never ends")
                current = []
            if first in ("continue", "end") and not current:
                self.say(f"a beam at {note.at} never began")
            if first:
                current.append(note)
            if first == "end":
                groups.append(current)
                current = []
        if current:
            self.say(f"a beam from {current[0].at} runs over the bar line")
        for group in groups:
            self.group(group)

    def group(self, notes: list) -> None:
        """One beam: inside a beat (or half a bar of four eighths), deeper levels whole."""
        start, end = notes[0].at, notes[-1].at + notes[-1].length
        eighths = all(note.type == "eighth" and not note.ratio and not note.dots for note in notes)
        half_bar = self.meter == "4/4" and eighths and len(notes) == 4 and start in (0, 2)
        whole_bar = self.meter == "3/4" and eighths and len(notes) == 6
        if self.beat_of(start) != self.beat_of(end - Fraction(1, 1000)) and not (half_bar or whole_bar):
            self.say(f"a beam from {start} to {end} runs over a beat")
        for note in notes:
            if set(note.beams) != set(range(1, BEAMS.get(note.type, 0) + 1)):
                self.say(f"beams {note.beams} on {note.type} at {note.at}")
        for level in (2, 3, 4):
            is_open = False
            for note in notes:
                kind = note.beams.get(level)
                if (kind in ("continue", "end")) != is_open:
                    self.say(f"beam {level} at {note.at}")
                is_open = kind in ("begin", "continue")
            if is_open:
                self.say(f"beam {level} from {start} never ends")

    def beat_of(self, at: Fraction) -> int:
        upper, lower = (int(number) for number in self.meter.split("/"))
        groups = GROUPS.get(self.meter)
        if groups is None:
            groups = [3] * (upper // 3) if upper % 3 == 0 and lower >= 8 else [1] * upper
        elif lower == 4:
            groups = [1] * upper
        bounds, end = [], Fraction(0)
        for units in groups:
            end += Fraction(4 * units, lower)
            bounds.append(end)
        return sum(bound <= at for bound in bounds)


class Note:
    """A note or rest as it stands in the file."""

    def __init__(self, element, divisions: int):
        self.at = Fraction(0)
        self.length = Fraction(int(element.findtext("duration")), divisions)
        self.type = element.findtext("type")
        self.dots = len(element.findall("dot"))
        rest = element.find("rest")
        self.whole_bar = rest is not None and rest.get("measure") == "yes"
        pitch = element.find("pitch")
        self.pitch = None
        if pitch is not None:
            self.pitch = (pitch.findtext("step"), int(pitch.findtext("alter", "0")), int(pitch.findtext("octave")))
        ratio = element.find("time-modification")
        self.ratio = None
        if ratio is not None:
            self.ratio = Fraction(int(ratio.findtext("normal-notes")), int(ratio.findtext("actual-notes")))
        self.hidden = element.get("print-object") == "no"
        self.slash = element.findtext("notehead") == "slash"
        self.stemless = element.findtext("stem") == "none"
        self.slurs = [slur.get("type") for slur in element.findall("notations/slur")]
        self.signs = [sign.tag for sign in element.findall("notations/articulations/*")]
        self.ties = {tie.get("type") for tie in element.findall("tie")}
        self.tieds = {tied.get("type") for tied in element.findall("notations/tied")}
        tuplets = [tuplet.get("type") for tuplet in element.findall("notations/tuplet")]
        self.tuplet = tuplets[0] if tuplets else None
        sign = element.find("accidental")
        self.sign = None if sign is None else sign.text
        self.courtesy = sign is not None and sign.get("cautionary") == "yes"
        self.beams = {int(beam.get("number", "1")): beam.text for beam in element.findall("beam")}

    def value(self) -> Fraction:
        plain = TYPES[self.type] * (2 - Fraction(1, 2**self.dots))
        return plain * (self.ratio or 1)


def goes_on(after: list, measures: list) -> bool:
    """Whether a section of the same exercise follows: where a sheet has sections its exercises are numbered."""
    numbered = any(mark.text.isdigit() for measure in measures for mark in measure.iter("rehearsal"))
    marks = [mark.text for measure in after[:1] for mark in measure.iter("rehearsal")]
    return numbered and bool(marks) and not any(mark.isdigit() for mark in marks)


def signature_alter(fifths: int, step: str) -> int:
    order = "FCGDAEB"
    if fifths >= 0:
        return 1 if step in order[:fifths] else 0
    return -1 if step in order[fifths:] else 0
