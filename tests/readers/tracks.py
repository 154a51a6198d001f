"""What a practice track must play, worked out here from what the program says is on the sheet: sounding pitches, the
count-in, swing, loops, answers, keys joined. Times are exact quarters.

Swing eighths divide the quarter (common practice). General MIDI Level 1: programs, channel 10, wood blocks 76 and 77.
Standard MIDI Files 1.0: tempo and meter bytes."""

from __future__ import annotations

import csv
import hashlib
import math
import re
import wave
from bisect import bisect
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import mido

import band
import by_mido
from sheet import midi, unlike

HALF = Fraction(1, 2)
# Beats a minute where a sheet has no mark, as the README says.
UNSAID = 90
# Quarters a minute up to which a ratio holds, as the README says of "swing auto".
NARROWER = [(120, (2, 1)), (160, (5, 3)), (200, (3, 2)), (240, (4, 3)), (280, (5, 4))]
INSTRUMENTS = Path(__file__).parents[2] / "fixtures" / "tables" / "instruments.csv"
PROGRAMS = {row["id"]: int(row["gm_program"]) for row in csv.DictReader(INSTRUMENTS.open(encoding="utf-8"))}
PIANO, ORGAN, BASS = 1, 21, 33
HIGH_BLOCK, LOW_BLOCK = 76, 77


@dataclass
class Wish:
    """What the lesson file says of its tracks."""

    count_in: int
    times: int
    ratio: tuple | None  # None: by tempo
    ladder: int | None  # the slowest of a ladder
    style: str | None  # None: as is usual

    @classmethod
    def of(cls, lesson: Path) -> "Wish":
        text = lesson.read_text(encoding="utf-8")
        # A section of a form has times of its own.
        table = re.search(r"^\[track\]\n(.*?)(?=^\[|\Z)", text, re.M | re.S)
        own = table[1] if table else ""
        number = lambda pattern, said, unsaid: int(found[1]) if (found := re.search(pattern, said, re.M)) else unsaid
        feel = re.search(r'^feel = "swing ?(.*)"', text, re.M)
        said = feel[1] if feel else ""
        ratio = None if said == "auto" else tuple(map(int, said.split(":"))) if said else (2, 1)
        slowest = number(r"^tempo = {.*from = (\d+)", text, None)
        style = re.search(r'^style = "(.*)"', own, re.M)
        return cls(number(r"^count_in = (\d+)", own, 1), number(r"^times = (\d+)", own, 1), ratio, slowest, style and style[1])


@dataclass
class Played:
    """A track on disk, its line in contents.json, and what is said of the sheets in it."""

    path: Path
    entry: dict
    sheets: list
    wish: Wish

    @property
    def name(self) -> str:
        return f"{self.sheets[0]['lesson']}/{self.entry['file']}"


class Laid:
    """A sheet laid out in time."""

    def __init__(self, told: dict, tempo: Fraction | None, wish: Wish):
        self.told = told
        self.notes = [(on := Fraction(n["onset"]), on + Fraction(n["length"]), midi(n["sounding"])) for n in told["notes"]]
        self.bars, meter, feel, marked = [], None, "straight", None
        said = {}
        for one in told["directions"]:
            said.setdefault(Fraction(one["onset"]), []).append(one)
        for bar in told["measures"]:
            onset, length = Fraction(bar["onset"]), Fraction(bar["length"])
            meter = tuple(map(int, bar["meter"].split("/"))) if "meter" in bar else meter
            for one in said.get(onset, []):
                feel = one.get("feel", feel)
                marked = one.get("tempo", marked)
            quick = tempo or (Fraction(marked) if marked else UNSAID * felt(*meter))
            whole = Fraction(4 * meter[0], meter[1])
            missing = whole - length if bar["pickup"] else Fraction(0)
            self.bars.append((onset, length, missing, meter, feel == "swing", quick))
        self.end = self.bars[-1][0] + self.bars[-1][1]
        self.whole = Fraction(4 * self.bars[0][3][0], self.bars[0][3][1])
        self.pickup = self.bars[0][1] if self.bars[0][2] else Fraction(0)
        self.wish = wish
        self.swung = self.offbeats()

    def offbeats(self) -> dict:
        """Where each time that swings is played."""
        events = {time for on, end, _ in self.notes for time in (on, end)}
        events |= {Fraction(chord["onset"]) for chord in self.told["chords"]}
        halves, uneven, starts = {}, set(), [bar[0] for bar in self.bars]
        for at in events:
            place = bisect(starts, at) - 1
            onset, length, missing, meter, swings, quick = self.bars[place]
            quarter, rest = divmod(at - onset + missing, 1)
            if not swings or compound(*meter) or meter[1] not in (2, 4) or at >= onset + length or at + 1 - rest > onset + length:
                continue
            if rest == HALF:
                halves[at] = (place, quarter, quick)
            elif rest:
                uneven.add((place, quarter))
        return {at: at - HALF + self.share(quick) for at, (place, quarter, quick) in halves.items() if (place, quarter) not in uneven}

    def share(self, quick: Fraction) -> Fraction:
        """The first eighth's part of the quarter."""
        by_tempo = next((ratio for most, ratio in NARROWER if math.floor(quick) <= most), (1, 1))
        long, short = self.wish.ratio or by_tempo
        return Fraction(long, long + short)

    def rounds(self) -> bool:
        """Whether its pickup can sound over its last bar when it comes round."""
        last, until = self.bars[-1], self.end - self.pickup
        roomy = len(self.bars) > 1 and last[3] == self.bars[0][3] and until >= last[0]
        return bool(self.pickup) and roomy and all(on < until for on, _, _ in self.notes)

    def line(self, until: Fraction | None = None) -> list:
        until = self.end if until is None else until
        ends = [min(end, until) for _, end, _ in self.notes]
        played = [(self.swung.get(on, on), self.swung.get(end, end), key) for (on, _, key), end in zip(self.notes, ends)]
        # Staccato notes are half as long.
        short = ["staccato" in note["marks"] for note in self.told["notes"]]
        return [(on, on + (end - on) / 2 if half else end, key) for (on, end, key), half in zip(played, short)]


def faults(played: Played) -> list[str]:
    """Where a track isn't what its sheets say."""
    track = by_mido.read(played.path)
    entry, wish = played.entry, played.wish
    tempo = entry["tempo"] and entry["tempo"] * beat(played)
    sheets = [Laid(told, tempo, wish) for told in played.sheets]
    answer = entry["form"] == "answer"
    line, passes, end = [], [], Fraction(0)
    for number, sheet in enumerate(sheets):
        for time in range(wish.times):
            comes_round = not answer and time > 0 and sheet.rounds()
            end += -sheet.pickup if comes_round else click_before(sheet, wish, number, time, end)
            passes.append((end, sheet, time == wish.times - 1))
            if answer:
                end += sheet.end
            else:
                cut = sheet.end - sheet.pickup if time < wish.times - 1 and sheet.rounds() else None
                line += [(end + on, end + off, key) for on, off, key in sheet.line(cut)]
            end += sheet.end
    part = track.part(plain(played.sheets[0]["part"]))
    found = answers(part.notes, passes) if answer else unlike("line", [] if entry["form"] == "backing" else line, part.notes)[:4]
    if track.end != end:
        found.append(f"ends at {track.end}, not {end}")
    if not answer and entry["form"] != "line alone":
        found += band.faults(track, passes)
    return found + roles(played, track, passes) + clicks(played, track, passes, answer) + speeds(played, track, passes, answer)


def plain(name: str) -> str:
    """A name as the file has it, in ASCII."""
    return name.replace("♭", "b").replace("♯", "#")


def beat(played: Played) -> Fraction:
    """What the lesson's tempo counts, in quarters: the mark says the slowest of a ladder in it."""
    marked = next((Fraction(one["tempo"]) for one in played.sheets[0]["directions"] if "tempo" in one), None)
    if marked and played.wish.ladder:
        return marked / played.wish.ladder
    meter = played.sheets[0]["measures"][0]["meter"]
    return felt(*map(int, meter.split("/")))


def felt(upper: int, lower: int) -> Fraction:
    """A meter's felt beat in quarters: three units in a compound meter."""
    return Fraction(4, lower) * (3 if compound(upper, lower) else 1)


def compound(upper: int, lower: int) -> bool:
    return upper > 3 and upper % 3 == 0 and lower >= 4


def click_before(sheet: Laid, wish: Wish, number: int, time: int, at: Fraction) -> Fraction:
    """The count-in, or the bar between keys; a pickup takes the end of its last bar."""
    bars = (wish.count_in if number == 0 else 1) if time == 0 else 0
    bars += (bars == 0 and at > 0 and sheet.pickup > 0) or (bars == 1 and 2 * sheet.pickup > sheet.whole)
    return max(bars * sheet.whole - sheet.pickup, Fraction(0)) if bars else Fraction(0)


def answers(notes: list, passes: list) -> list[str]:
    """Each call is followed by silence of its own length: so where a call begins that comes `before` into the sheet, as
    much has been added as was played."""
    found = []
    rest = list(notes)
    for begins, sheet, _ in passes:
        line = sheet.line()
        heard, rest = rest[: len(line)], rest[len(line) :]
        added = [on - begins - was for (on, _, _), (was, _, _) in zip(heard, line)]
        calls = sorted(set(added))
        for (on, off, key), (was, until, pitch), by in zip(heard, line, added):
            following = next((call for call in calls if call > by), sheet.end)
            if key != pitch or off - on != min(until, following) - was or not by <= was < following:
                found.append(f"answer: {key} at {on} to {off}, told {pitch} at {was} to {until}")
        if len(calls) < 2 and len(line) > 1:
            found.append("answer: the whole sheet is one call")
    if rest:
        found.append(f"answer: {len(rest)} notes too many")
    return found[:4]


def roles(played: Played, track: by_mido.Track, passes: list) -> list[str]:
    """Names, channels and programs."""
    told = played.sheets[0]
    expected = [(None, set(), None)]
    bars = [band.Bar(sheet, place) for _, sheet, _ in passes for place in range(len(sheet.bars))]
    has = lambda *styles: any(bar.style in styles for bar in bars)
    form = played.entry["form"]
    if form != "backing":
        expected.append((plain(told["part"]), {0}, PROGRAMS[told["instrument"]]))
    if form != "line alone":
        # the key is given in the count-in, whatever follows
        expected.append(("Chords", {1}, PIANO))
        expected += [("Drone", {3}, ORGAN)] if has("drone") else []
        bass = has(*band.DRUMS) or has("plain") and any(part[0] == "Bass" for part in track.parts)
        expected += [("Bass", {2}, BASS)] if bass else []
        expected += [("Drums", {9}, None)] if has(*band.DRUMS) else []
    expected.append(("Click", {9}, None))
    got = [(name, part.channels, part.program) for name, part in track.parts]
    return [f"tracks: {got}"] if got[1:] != expected[1:] else []


def clicks(played: Played, track: by_mido.Track, passes: list, answer: bool) -> list[str]:
    """Wood blocks alone, the high one on every bar line there is."""
    part = track.part("Click")
    found = [f"click: {key} at {on}" for on, _, key in part.notes if key not in (HIGH_BLOCK, LOW_BLOCK)]
    if answer or not part.notes or part.notes[0][0] != 0:
        return found
    # where drums play nothing is clicked
    bars = [(begins, sheet, band.Bar(sheet, place)) for begins, sheet, _ in passes for place in range(len(sheet.bars))]
    bar_lines = {begins + bar.onset for begins, sheet, bar in bars if not bar.patterned and not bar.pickup}
    high = {on for on, _, key in part.notes if key == HIGH_BLOCK}
    throughout = played.entry["form"] != "line alone"
    return found + [f"no bar line heard at {at}" for at in sorted(bar_lines - high)[:2] if throughout]


def speeds(played: Played, track: by_mido.Track, passes: list, answer: bool) -> list[str]:
    """Set Tempo (FF 51 03 tttttt) and Time Signature (FF 58 04 nn dd cc bb), byte for byte."""
    found, expected = [], []
    data = played.path.read_bytes()
    for _, sheet, _ in passes:
        for *_, meter, _, quick in sheet.bars:
            micros = (60_000_000 + quick / 2) // quick
            if micros not in expected[-1:]:
                expected.append(micros)
            if b"\xff\x51\x03" + int(micros).to_bytes(3, "big") not in data:
                found.append(f"no tempo of {quick}")
            upper, lower = meter
            clocks = int(24 * felt(upper, lower))
            if b"\xff\x58\x04" + bytes([upper, lower.bit_length() - 1, clocks, 8]) not in data:
                found.append(f"no meter {upper}/{lower}")
    if not answer and [micros for _, micros in track.tempos] != expected:
        found.append(f"tempos: {track.tempos}, not {expected}")
    return found[:4]


def unread(played: Played) -> list[str]:
    """Where music21 finds other notes than mido."""
    ours = [part.notes for _, part in by_mido.read(played.path).parts]
    theirs = by_mido.notes_by_music21(played.path)
    return [] if ours == theirs else [f"track {n}: {a[:2]} or {b[:2]}" for n, (a, b) in enumerate(zip(ours, theirs)) if a != b] or ["tracks"]


def unheard(path: Path) -> list[str]:
    """Where a WAV file isn't as long as the MIDI file beside it and what rings, clips or is silent, or the FLAC file
    holds other sound; or where either doesn't say what it is."""
    found = []
    lesson, player = path.parts[-3], path.parts[-2]
    place = path.with_name(f"{lesson}-{player}-{path.name}")
    with wave.open(str(place.with_suffix(".wav"))) as audio:
        sound = audio.readframes(audio.getnframes())
        rate, width, channels, frames = audio.getframerate(), audio.getsampwidth(), audio.getnchannels(), audio.getnframes()
    if (rate, width, channels) != (44_100, 2, 2):
        found.append(f"{rate} Hz, {8 * width} bits, {channels} channels")
    # 0.3 s of quiet before, a second of ringing after
    if abs(frames / rate - mido.MidiFile(path).length - 1.3) > 0.002:
        found.append(f"{frames / rate} s of sound, {mido.MidiFile(path).length} s of MIDI")
    samples = memoryview(sound).cast("h")
    peak = max(abs(sample) for sample in samples)
    if not 5_000 < peak < 29_205:
        found.append(f"the peak is {peak}")
    if any(samples[: 2 * 13_000]):
        found.append("it isn't quiet before the first click")
    # FLAC (RFC 9639): after its name the stream's description, which ends in the samples' number and MD5
    flac = place.with_suffix(".flac").read_bytes()
    info = int.from_bytes(flac[18:26], "big")
    if flac[:4] != b"fLaC" or info & (1 << 36) - 1 != frames or info >> 44 != rate:
        found.append("the FLAC file says another length or rate")
    if flac[26:42] != hashlib.md5(sound).digest():
        found.append("the FLAC file holds other samples")
    riff = place.with_suffix(".wav").read_bytes()
    if int.from_bytes(riff[4:8], "little") + 8 != len(riff) or b"INFO" not in riff[44 + len(sound) :]:
        found.append("the WAV file has no tags at its end, or another size than it says")
    if b"TRACKNUMBER=" not in flac[:2_000] or place.with_suffix(".flac").name not in list(place.parent.glob("*.m3u8"))[0].read_text("utf-8"):
        found.append("the FLAC file has no tags, or no place in the list")
    return found
