"""A practice track as mido reads it; music21's own reader of MIDI files must find the same notes in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import mido
from music21 import midi as music21_midi


@dataclass
class Part:
    """A track of the file. Times are exact quarters."""

    notes: list = field(default_factory=list)  # (onset, end, MIDI number), in order
    channels: set = field(default_factory=set)  # from 0
    program: int | None = None  # from 1


@dataclass
class Track:
    """A whole file."""

    parts: list  # (name, Part), the conductor's first
    tempos: list = field(default_factory=list)  # (time, microseconds to the quarter)
    meters: list = field(default_factory=list)  # (time, upper, lower, clocks to the click)
    end: Fraction = Fraction(0)

    def part(self, name: str) -> Part:
        return dict(self.parts).get(name, Part())


def read(path: Path) -> Track:
    """Every note has its end, and ends before the same key sounds again; else this raises."""
    file = mido.MidiFile(path, charset="utf-8")
    track = Track([])
    for messages in file.tracks:
        part, sounding, tick = Part(), {}, 0
        for message in messages:
            tick += message.time
            at = Fraction(tick, file.ticks_per_beat)
            if not message.is_meta and message.type != "sysex":
                part.channels.add(message.channel)
            if message.type == "note_on" and message.velocity > 0:
                assert message.note not in sounding, f"key {message.note} struck while it sounds, at {at}"
                sounding[message.note] = at
            elif message.type in ("note_on", "note_off"):
                part.notes.append((sounding.pop(message.note), at, message.note))
            elif message.type == "program_change":
                part.program = message.program + 1
            elif message.type == "set_tempo":
                track.tempos.append((at, message.tempo))
            elif message.type == "time_signature":
                track.meters.append((at, message.numerator, message.denominator, message.clocks_per_click))
        assert not sounding, f"keys {sorted(sounding)} never end"
        part.notes.sort()
        track.parts.append((messages.name, part))
        track.end = max(track.end, Fraction(tick, file.ticks_per_beat))
    return track


def notes_by_music21(path: Path) -> list:
    """The notes of each track of the file: (onset, end, MIDI number)."""
    file = music21_midi.MidiFile()
    file.open(str(path))
    file.read()
    file.close()
    return [notes(track, file.ticksPerQuarterNote) for track in file.tracks]


def notes(track: music21_midi.MidiTrack, ticks: int) -> list:
    found, sounding, tick = [], {}, 0
    for event in track.events:
        if event.isDeltaTime():
            tick += event.time
        elif event.isNoteOn():
            sounding[event.pitch] = Fraction(tick, ticks)
        elif event.isNoteOff():
            found.append((sounding.pop(event.pitch), Fraction(tick, ticks), event.pitch))
    return sorted(found)
