"""A sheet as Verovio reads it: written pitch from its MEI, onsets from its time map, sound from its MIDI."""

import base64
import io
import json
import re
from fractions import Fraction

import mido
import verovio
from lxml import etree

from sheet import Sheet, join_ties

MEI = "{http://www.music-encoding.org/ns/mei}"
ID = "{http://www.w3.org/XML/1998/namespace}id"
SIGNS = {"s": "#", "f": "b", "n": "", "x": "##", "ss": "##", "ff": "bb"}
ALTERATIONS = {"♯": "#", "♭": "b", "𝄪": "##", "𝄫": "bb", "♮": ""}


def read(path: str) -> Sheet:
    verovio.enableLog(verovio.LOG_ERROR)
    toolkit, written = load(path)
    on, off, bars = times(toolkit)
    sheet = Sheet(letters=[], tempos=[], measures=[])
    staff = next(written.iter(MEI + "staffDef"))
    # Its letters are one off where an octave is in the interval, so only the semitones are its word.
    sheet.transposition = (None, int(staff.get("trans.semi", 0)))
    held = {tie.get("startid", "#")[1:] for tie in written.iter(MEI + "tie")}
    pieces, slashes = [], []
    for note in written.iter(MEI + "note"):
        place = note.get(ID)
        tied = place in held or note.get("tie") in ("i", "m")
        row = pieces if note.get("head.shape") != "slash" else slashes
        row.append((on[place], off[place] - on[place], pitch(note), tied))
        for verse in note.iter(MEI + "verse"):
            sheet.labels.append((on[place], int(verse.get("n", 1)), "".join(verse.find(MEI + "syl").itertext())))
    sheet.notes = join_ties(pieces)
    slashes = join_ties(slashes)
    sheet.slashes = [(onset, length) for onset, length, _ in slashes]
    sheet.labels.sort(key=lambda label: label[:2])
    # A note too many or too few on either side shows as a difference.
    heard = midi(toolkit)
    # A slash has only a place on the staff: what its MIDI makes of that says nothing.
    order = sorted([(onset, True) for onset, _, _ in sheet.notes] + [(onset, False) for onset, _, _ in slashes])
    for place in [place for place, (_, plays) in enumerate(order) if not plays][::-1]:
        del heard[place : place + 1]
    starts = [onset for onset, _, _ in sheet.notes] + [None] * len(heard)
    sheet.heard = list(zip(starts, heard))
    collect(written, bars, sheet)
    return sheet


def load(path: str):
    toolkit = verovio.toolkit()
    toolkit.setOptions({"xmlIdSeed": 1, "breaks": "none", "expandNever": True})
    if not toolkit.loadFile(path):
        raise ValueError("Verovio can't load it")
    return toolkit, etree.fromstring(toolkit.getMEI({"removeIds": False, "scoreBased": True}).encode())


def midi(toolkit) -> list[int]:
    """The numbers of the notes that its MIDI begins, in order."""
    file = mido.MidiFile(file=io.BytesIO(base64.b64decode(toolkit.renderToMIDI())))
    return [event.note for event in mido.merge_tracks(file.tracks) if event.type == "note_on" and event.velocity]


def times(toolkit) -> tuple[dict, dict, dict]:
    """Onsets and ends of notes, onsets of measures, by id."""
    on, off, bars = {}, {}, {}
    moments = toolkit.renderToTimemap({"includeMeasures": True, "includeRests": False})
    if isinstance(moments, str):
        moments = json.loads(moments)
    for moment in moments:
        at = quarters(moment["qstamp"])
        for place in moment.get("on", []):
            on.setdefault(place, at)
        for place in moment.get("off", []):
            off.setdefault(place, at)
        if "measureOn" in moment:
            bars.setdefault(moment["measureOn"], at)
    return on, off, bars


def collect(mei, bars: dict, sheet: Sheet) -> None:
    """Everything but the notes, in the order of the measures."""
    now, unit, pending = Fraction(0), 4, []
    for one in mei.iter(MEI + "scoreDef", MEI + "staffDef", MEI + "measure"):
        if one.tag != MEI + "measure":
            pending.append(one)
            continue
        now = bars[one.get(ID)]
        sheet.measures.append((now, one.get("n")))
        for definition in pending:
            unit = define(definition, now, unit, sheet)
        pending = []
        beat = Fraction(4, unit)
        for harm in one.iter(MEI + "harm"):
            sheet.chords.append((now + (tstamp(harm) - 1) * beat, *chord("".join(harm.itertext()))))
        for mark in one.iter(MEI + "reh"):
            sheet.letters.append((now, "".join(mark.itertext()).strip()))
        for tempo in one.iter(MEI + "tempo"):
            if tempo.get("midi.bpm"):
                sheet.tempos.append((now + (tstamp(tempo) - 1) * beat, quarters(tempo.get("midi.bpm"))))


def define(definition, now: Fraction, unit: int, sheet: Sheet) -> int:
    """A key or a meter from here on; gives the meter's lower number."""
    key = definition.find(MEI + "keySig")
    sign = key.get("sig") if key is not None else definition.get("keysig")
    if sign is not None and definition.find("./" + MEI + "staffGrp") is None:
        sheet.signatures.append((now, fifths(sign)))
    meter = definition.find(MEI + "meterSig")
    upper, lower = (meter.get("count"), meter.get("unit")) if meter is not None else (definition.get("meter.count"), definition.get("meter.unit"))
    if upper is not None:
        sheet.meters.append((now, f"{upper}/{lower}"))
        return int(lower)
    return unit


def fifths(sign: str) -> int:
    if sign == "0":
        return 0
    return int(sign[:-1]) * (1 if sign[-1] == "s" else -1)


def chord(text: str) -> tuple:
    """Root and bass; the kind is only text here."""
    if text.startswith("N.C"):
        return ("C", None, None, None)
    for sign, letter in ALTERATIONS.items():
        text = text.replace(sign, letter)
    root = re.match(r"[A-G](##|#|bb|b)?", text)
    bass = re.search(r"/([A-G](?:##|#|bb|b)?)$", text)
    return (root[0] if root else text, None, None, bass[1] if bass else None)


def pitch(note) -> str:
    sign = ""
    accidental = note.find(MEI + "accid")
    for source in (accidental, note):
        for attribute in ("accid.ges", "accid"):
            if source is not None and source.get(attribute) is not None:
                sign = SIGNS[source.get(attribute)]
                return f"{note.get('pname').upper()}{sign}{note.get('oct')}"
    return f"{note.get('pname').upper()}{sign}{note.get('oct')}"


def tstamp(one) -> Fraction:
    return quarters(one.get("tstamp", "1"))


def quarters(time) -> Fraction:
    return Fraction(float(time)).limit_denominator(960)
