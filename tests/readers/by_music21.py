"""A sheet as music21 reads it: notes by their durations, sound by its own transposing."""

import warnings
from fractions import Fraction

from music21 import converter, harmony, instrument, key, meter, note, spanner, stream, tempo
from music21.expressions import RehearsalMark

from sheet import Sheet, join_ties, midi

# The standard's names of kinds that music21 renames.
KINDS = {own: standard for standard, own in harmony.CHORD_ALIASES.items()}

# The standard's names of signs.
SIGNS = {"Accent": "accent", "Staccato": "staccato", "Tenuto": "tenuto", "BreathMark": "breath-mark"}
SIGNS |= {"Falloff": "falloff", "Scoop": "scoop", "Doit": "doit"}


def read(path: str) -> Sheet:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        score = converter.parse(path, forceSource=True)
        part = score.parts[0]
        sheet = Sheet(sounding=[], letters=[], tempos=[], measures=[])
        sheet.transposition = transposition(part)
        written = [name(one.pitch) for one in notes(part)]
        for bar in part.getElementsByClass(stream.Measure):
            # An extra measure is, for music21, the one before it with a suffix.
            number = bar.numberSuffix if bar.numberSuffix else str(bar.number)
            sheet.measures.append((quarters(bar.offset), number))
        collect(part.flatten(), sheet)
        score.toSoundingPitch(inPlace=True)
        pieces = list(notes(score.parts[0]))
        slashes = [(quarters(one.offset), quarters(one.quarterLength), None, tied_on(one)) for one in slashed(score.parts[0])]
    times = [(quarters(one.offset), quarters(one.quarterLength), tied_on(one)) for one in pieces]
    sheet.notes = join_ties([(on, length, pitch, tie) for (on, length, tie), pitch in zip(times, written)])
    sounding = [(on, length, name(one.pitch), tie) for (on, length, tie), one in zip(times, pieces)]
    sheet.sounding = [(on, pitch) for on, _, pitch in join_ties(sounding)]
    sheet.heard = [(on, midi(pitch)) for on, pitch in sheet.sounding]
    sheet.slashes = [(on, length) for on, length, _ in join_ties(slashes)]
    sheet.labels.sort(key=lambda label: label[:2])
    sheet.marks = marks(score.parts[0])
    return sheet


def transposition(part: stream.Part) -> tuple:
    """The last of the part's instruments: the first is music21's own guess by the name."""
    *_, horn = part.recurse().getElementsByClass(instrument.Instrument)
    by = horn.transposition
    return (by.diatonic.generic.staffDistance, by.chromatic.semitones) if by else (0, 0)


def collect(flat: stream.Stream, sheet: Sheet) -> None:
    for one in flat:
        on = quarters(one.offset)
        if isinstance(one, harmony.Harmony):
            sheet.chords.append((on, *chord(one)))
        elif isinstance(one, note.Note):
            sheet.labels += [(on, lyric.number, lyric.text) for lyric in one.lyrics]
        elif isinstance(one, key.KeySignature):
            sheet.signatures.append((on, one.sharps))
        elif isinstance(one, meter.TimeSignature):
            sheet.meters.append((on, one.ratioString))
        elif isinstance(one, RehearsalMark):
            sheet.letters.append((on, one.content))
        elif isinstance(one, tempo.MetronomeMark) and one.number is not None:
            sheet.tempos.append((on, quarters(one.getQuarterBPM())))


def chord(one: harmony.Harmony) -> tuple:
    """Root, kind, degrees, bass."""
    if isinstance(one, harmony.NoChord):
        return ("C", "none", (), None)
    root, bass = plain(one.root().name), plain(one.bass().name)
    changes = one.chordStepModifications
    degrees = tuple(sorted(f"{c.modType} {c.degree} {int(c.interval.semitones) if c.interval else 0}" for c in changes))
    return (root, KINDS.get(one.chordKind, one.chordKind), degrees, None if bass == root else bass)


def notes(part: stream.Part):
    return [one for one in part.flatten().getElementsByClass(note.Note) if one.notehead != "slash"]


def slashed(part: stream.Part):
    return [one for one in part.flatten().getElementsByClass(note.Note) if one.notehead == "slash"]


def marks(part: stream.Part) -> list:
    """Articulations and the ends of slurs, each at the beginning of its (tied) note."""
    flat = part.flatten()
    begun, pieces = {}, notes(part)
    for place, one in enumerate(pieces):
        tied = place > 0 and tied_on(pieces[place - 1])
        begun[id(one)] = begun[id(pieces[place - 1])] if tied else quarters(one.offset)
    found = [(begun[id(one)], SIGNS[type(sign).__name__]) for one in pieces for sign in one.articulations]
    found += {(begun[id(one)], "ghost") for one in pieces if one.noteheadParenthesis}
    for slur in flat.getElementsByClass(spanner.Slur):
        if id(slur.getFirst()) in begun:
            found += [(begun[id(slur.getFirst())], "slur start"), (begun[id(slur.getLast())], "slur stop")]
    return sorted(found)


def tied_on(one: note.Note) -> bool:
    return one.tie is not None and one.tie.type in ("start", "continue")


def name(pitch) -> str:
    return plain(pitch.nameWithOctave)


def plain(name: str) -> str:
    return name.replace("-", "b")


def quarters(time) -> Fraction:
    return Fraction(time).limit_denominator(16383)
