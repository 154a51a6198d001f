"""A sheet as music21 reads it: notes by their durations, sound by its own transposing."""

import warnings
from fractions import Fraction

from music21 import converter, harmony, instrument, key, meter, note, stream, tempo
from music21.expressions import RehearsalMark

from sheet import Sheet, join_ties


def read(path: str) -> Sheet:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        score = converter.parse(path, forceSource=True)
        part = score.parts[0]
        sheet = Sheet(letters=[], tempos=[], measures=[])
        horn = part.getInstrument(returnDefault=False)
        by = horn.transposition if horn is not None else None
        sheet.transposition = (by.diatonic.generic.staffDistance, by.chromatic.semitones) if by else (0, 0)
        written = [name(one.pitch) for one in notes(part)]
        for bar in part.getElementsByClass(stream.Measure):
            sheet.measures.append((quarters(bar.offset), bar.measureNumberWithSuffix()))
        collect(part.flatten(), sheet)
        score.toSoundingPitch(inPlace=True)
        pieces = list(notes(score.parts[0]))
    times = [(quarters(one.offset), quarters(one.quarterLength), tied_on(one)) for one in pieces]
    sheet.notes = join_ties([(on, length, pitch, tie) for (on, length, tie), pitch in zip(times, written)])
    sounding = [(on, length, name(one.pitch), tie) for (on, length, tie), one in zip(times, pieces)]
    sheet.sounding = [(on, pitch) for on, _, pitch in join_ties(sounding)]
    return sheet


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
    return (root, one.chordKind, degrees, None if bass == root else bass)


def notes(part: stream.Part):
    return part.flatten().getElementsByClass(note.Note)


def tied_on(one: note.Note) -> bool:
    return one.tie is not None and one.tie.type in ("start", "continue")


def name(pitch) -> str:
    return plain(pitch.nameWithOctave)


def plain(name: str) -> str:
    return name.replace("-", "b")


def quarters(time) -> Fraction:
    return Fraction(time).limit_denominator(16383)
