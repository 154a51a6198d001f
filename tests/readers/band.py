"""What a band must play under a sheet, worked out here from the chords, scales and bars that the program tells: styles
bar by bar, drums by their patterns, roots in the bass, chords within their scales. Times are exact quarters.

The patterns are common practice; drums are General MIDI Level 1's: 36 bass drum, 37 side stick, 38 snare, 42 and 44
hi-hats, 45 and 50 toms, 49 crash, 51 ride."""

from __future__ import annotations

from bisect import bisect
from fractions import Fraction

HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)
EVEN = ("bossa", "funk", "even eighths")
EIGHTHS = "0 1/2 1 3/2 2 5/2 3 7/2"
# What is struck in a bar before anything is swung; the bossa's side stick goes over two bars.
DRUMS = {
    "swing": {36: "0 1 2 3", 44: "1 3", 51: "0 1 3/2 2 3 7/2"},
    "two-beat": {36: "0 2", 38: "1 3", 44: "1 3", 51: "0 1 2 3"},
    "waltz": {36: "0", 44: "1 2", 51: "0 1 3/2 2"},
    "bossa": {36: "0 3/2 2 7/2", 37: ("0 3/2 3", "1 5/2"), 42: EIGHTHS},
    "funk": {36: "0 3/2 5/2", 38: "1 7/4 9/4 3", 42: EIGHTHS},
    "shuffle": {36: "0 1 2 3", 38: "1 3", 51: EIGHTHS},
    "ballad": {36: "0", 44: "1 3", 51: "0 1 2 3 7/2"},
    "even eighths": {36: "0 3/2", 37: "3", 44: "1 3", 51: EIGHTHS},
}
STYLES = [*DRUMS, "drone", "plain"]


class Bar:
    """A bar of a sheet as the band plays it."""

    def __init__(self, sheet, place: int):
        self.onset, self.length, missing, self.meter, swings, quick = sheet.bars[place]
        starts = [Fraction(one["onset"]) for one in sheet.told["exercises"]]
        self.exercise = sheet.told["exercises"][max(bisect(starts, self.onset) - 1, 0)]
        self.pickup = bool(missing)
        whole = not missing and self.length == Fraction(4 * self.meter[0], self.meter[1])
        four, three = self.meter in ((4, 4), (2, 2)), self.meter == (3, 4)
        usual = "drone" if self.exercise["chorus"] is None else "waltz" if three else "swing" if swings else "even eighths"
        style = sheet.wish.style or usual
        fits = style in ("drone", "plain") or whole and (three if style == "waltz" else four)
        self.style = style if fits else "plain"
        self.share = HALF
        if self.style not in EVEN and (swings or self.style in ("swing", "shuffle")):
            long, short = (2, 1) if not swings else (1, 1)
            self.share = sheet.share(quick) if swings else Fraction(long, long + short)

    @property
    def patterned(self) -> bool:
        return self.style in DRUMS

    def played(self, at: Fraction) -> Fraction:
        return at - HALF + self.share if at % 1 == HALF else at

    def written(self, at: Fraction) -> Fraction:
        """Where a stroke stood before it was swung."""
        return at - self.share + HALF if at % 1 == self.share else at


class Chords:
    """The chords of a sheet as they sound: (root, bass, tones, all that is allowed), or None for none."""

    def __init__(self, told: dict):
        by = told["transposition"]["chromatic"] if told["transposition"] else 0
        self.starts, self.chords = [], []
        for chord in told["chords"]:
            self.starts.append(Fraction(chord["onset"]))
            if chord["kind"] == "none":
                self.chords.append(None)
                continue
            root = (name(chord["root"]) + by) % 12
            bass = (name(chord["bass"] or chord["root"]) + by) % 12
            tones = {(name(tone) + by) % 12 for tone in chord["tones"]}
            scale = {(root + degree(one)) % 12 for one in chord["scale"]}
            self.chords.append((root, bass, tones, frozenset(tones | scale)))

    def at(self, time: Fraction):
        place = bisect(self.starts, time) - 1
        return self.chords[place] if place >= 0 else None


def name(text: str) -> int:
    """A note's pitch class, not yet within the octave."""
    return {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[text[0]] + text.count("#") - text[1:].count("b")


def degree(text: str) -> int:
    number = int(text.lstrip("b#"))
    return (0, 2, 4, 5, 7, 9, 11)[(number - 1) % 7] + text.count("#") - text.count("b")


def faults(track, passes: list) -> list[str]:
    """Where the band plays something else; `passes` are the times that sheets are played: (onset, sheet, last time)."""
    found = []
    parts = {role: track.part(role).notes for role in ("Chords", "Drone", "Bass", "Drums")}
    before = 0  # where the time before ends: a pickup that comes round sounds over it
    for begins, sheet, last in passes:
        over, before = before - begins, begins + sheet.end
        bars = [Bar(sheet, place) for place in range(len(sheet.bars))]
        end = begins + sheet.end
        here = {role: [note for note in notes if begins <= note[0] < end] for role, notes in parts.items()}
        chords = Chords(sheet.told)
        if not sheet.told["chords"] and any(note["chord"] for note in sheet.told["notes"]):
            continue  # symbols that aren't printed aren't told
        for place, bar in enumerate(bars):
            closes = last and place == len(bars) - 1
            onset = begins + bar.onset
            struck = {role: [note for note in notes if onset <= note[0] < onset + bar.length] for role, notes in here.items()}
            if bar.patterned:
                number = sum(one.exercise is bar.exercise and not sheet.bars[at][2] for at, one in enumerate(bars[:place]))
                found += drums(bar, number, closes, [(on - onset, key) for on, _, key in struck["Drums"]])
                found += comping(bar, closes, chords, [(on - onset, key) for on, _, key in struck["Chords"]])
                found += [f"bass: {key} at {on}" for on, _, key in struck["Bass"] if not 28 <= key <= 50]
            elif struck["Drums"] and bar.onset >= over:
                found.append(f"drums in a {bar.style} bar at {onset}")
            if bar.style == "drone" and bar.exercise["chorus"] is None:
                found += drone(sheet, bar, [note for note in parts["Drone"] if note[0] < onset + bar.length and note[1] > onset])
        found += roots(bars, chords, [(on - begins, off - begins, key) for on, off, key in here["Bass"]])
    return found[:6]


def drums(bar: Bar, number: int, closes: bool, struck: list) -> list[str]:
    rows = {key: sorted(on for on, drum in struck if drum == key) for key in {key for _, key in struck}}
    if closes:
        return [] if rows == {36: [0], 49: [0]} else [f"the last bar's drums: {rows}"]
    last = bar.length - 1
    fills = 45 in rows
    found = []
    for key, times in DRUMS[bar.style].items():
        times = times[number % 2] if isinstance(times, tuple) else times
        expected = [bar.played(Fraction(time)) for time in times.split()]
        got = rows.pop(key, [])
        if [on for on in got if on < last] != [on for on in expected if on < last]:
            found.append(f"{bar.style}: drum {key} at {got}, not {expected}, in the bar at {bar.onset}")
        elif not fills and got != expected:
            found.append(f"{bar.style}: drum {key} ends with {got}, not {expected}, in the bar at {bar.onset}")
    strange = [key for key in rows if key not in (49, *((38, 45, 50) if fills else ()))]
    return found + [f"{bar.style}: drums {strange} in the bar at {bar.onset}" for _ in strange[:1]]


def comping(bar: Bar, closes: bool, chords: Chords, struck: list) -> list[str]:
    found = []
    for on, key in struck:
        at = bar.written(on)
        ahead = at + HALF >= bar.length and not closes
        chord = chords.at(bar.onset + (at + HALF if ahead else at))
        if not 50 <= key <= 72:
            found.append(f"comping: {key} in the bar at {bar.onset}")
        elif chord is None or key % 12 not in chord[3]:
            found.append(f"comping: {key} at {bar.onset + on} over {chord}")
        elif key % 12 == chord[0]:
            found.append(f"comping: the root {key} at {bar.onset + on}")
    return found


def roots(bars: list, chords: Chords, bass: list) -> list[str]:
    """On each chord's first beat its root or the note after the slash, and no leap over an octave."""
    found, struck, before = [], {on: key for on, _, key in bass}, None
    for bar in bars:
        if not bar.patterned:
            before = None
            continue
        for beat in range(int(bar.length)):
            chord = chords.at(bar.onset + beat)
            if chord != before and chord and struck.get(bar.onset + beat, -1) % 12 != chord[1]:
                found.append(f"bass: {struck.get(bar.onset + beat)} under a new chord on {chord[1]} at {bar.onset + beat}")
            before = chord
    patterned = [(on, off, key) for on, off, key in bass if any(bar.patterned and bar.onset <= on < bar.onset + bar.length for bar in bars)]
    pairs = zip(patterned, patterned[1:])
    return found + [f"bass: a leap from {a[2]} to {b[2]} at {b[0]}" for a, b in pairs if abs(a[2] - b[2]) > 12 and b[0] - a[1] < 1]


def drone(sheet, bar: Bar, held: list) -> list[str]:
    """The root that the exercise's notes are counted from, and its fifth where the scale has a perfect one."""
    start = Fraction(bar.exercise["onset"])
    number = sheet.told["exercises"].index(bar.exercise)
    notes = [note for note in sheet.told["notes"] if note["exercise"] == number and not note["ornament"]]
    if not notes or Fraction(notes[0]["onset"]) < start:
        return []
    from sheet import midi

    tonics = {(midi(note["sounding"]) - degree(note["degree"])) % 12 for note in notes}
    above = (0, 7) if "5" in bar.exercise["scale"] else (0,)
    allowed = {(tonic + one) % 12 for tonic in tonics for one in above}
    classes = {key % 12 for _, _, key in held}
    return [] if classes and classes <= allowed and len(classes) >= len(above) else [f"drone: {classes}, not of {allowed}, at {bar.onset}"]
