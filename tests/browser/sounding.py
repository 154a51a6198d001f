"""The small player beside the audio track of the same sheet: its drums stroke by stroke, and the vibrato of a long note."""

import base64
import cmath
import math
import struct
import wave

from desk import Room, sheet

RATE = 44100
# Decibels under the whole, from memory: what lies further is hardly heard.
BURIED = 18

RENDER = """async ([events, role, seconds]) => {
    const { Player } = await import('/sound.js');
    const context = new OfflineAudioContext(2, 44100 * seconds, 44100);
    const none = { line: [], chords: [], bass: [], drums: [], click: [] };
    new Player({ ...events, ...none, [role]: events[role] }, context).setAll();
    const made = await context.startRendering();
    const [left, right] = [made.getChannelData(0), made.getChannelData(1)];
    const samples = left.map((value, at) => value + right[at]);
    let text = '';
    const bytes = new Uint8Array(samples.buffer);
    for (let at = 0; at < bytes.length; at += 32768) text += String.fromCharCode(...bytes.subarray(at, at + 32768));
    return btoa(text); }"""

ASK = """async (file) => { const text = document.getElementById('lesson-text').value;
    const answer = await fetch('/api/play', { method: 'POST', headers: { 'x-desk-token': sessionStorage.getItem('desk-token') },
        body: JSON.stringify({ file, text, player: 0, key: '' }) });
    return answer.json(); }"""

LESSON = """title = "Alone"
instruments = ["flute"]
tempo = {tempo}
{feel}
[keys]
only = ["C"]
[track]
levels = {{ {silent} }}
{more}
"""


def rendered(room: Room, lesson: str, role: str, seconds: int) -> tuple[list[float], list[float]]:
    """What the small player plays of a role, and what the track has of it, from the track's first tick on."""
    with room.desk() as desk:
        (room.folder / "alone.toml").write_text(lesson)
        with room.page(desk.address) as page:
            sheet(page)
            events = page.evaluate(ASK, "alone.toml")
            assert events[role], f"nothing of {role}"
            data = base64.b64decode(page.evaluate(RENDER, [events, role, seconds]))
        room.write(str(room.folder / "alone.toml"), "--out", str(room.folder / "tracks"), "--format", "wav")
    with wave.open(str(next((room.folder / "tracks").rglob("*.wav")))) as file:
        assert file.getframerate() == RATE and file.getnchannels() == 2
        frames = struct.unpack(f"<{2 * file.getnframes()}h", file.readframes(file.getnframes()))
    quiet = round(0.3 * RATE)
    track = [(left + right) / 65536 for left, right in zip(frames[2 * quiet::2], frames[2 * quiet + 1::2])]
    own = list(struct.unpack(f"<{len(data) // 4}f", data))
    length = min(len(own), len(track))
    return own[:length], track[:length]


def frames(samples: list[float]) -> list[tuple[float, float]]:
    """Loudness in decibels against the whole, and crossings of zero, of each fiftieth of a second."""
    step = RATE // 50
    whole = math.sqrt(sum(value * value for value in samples) / len(samples))
    made = []
    for at in range(0, len(samples) - step, step):
        part = samples[at:at + step]
        loud = math.sqrt(sum(value * value for value in part) / step) / whole
        crossings = sum(one < 0 <= other or other < 0 <= one for one, other in zip(part, part[1:]))
        made.append((20 * math.log10(loud + 1e-6), crossings / step))
    return made


def drums_are_the_tracks(room: Room) -> None:
    more = """style = "swing"
[figure]
moves = "start, step up, step up, step up"
[changes]
bars = "| Dm7 | G7 | Cmaj7 | same |"
"""
    lesson = LESSON.format(tempo=120, feel='feel = "swing"', silent="line = 0, chords = 0, bass = 0, click = 0", more=more)
    own, track = rendered(room, lesson, "drums", 8)
    pairs = [(one, other) for one, other in zip(frames(own), frames(track)) if max(one[0], other[0]) > -25]
    assert len(pairs) > 100
    louder = sorted(abs(one[0] - other[0]) for one, other in pairs)
    brighter = sorted(abs(one[1] - other[1]) for one, other in pairs)
    middle, high = len(pairs) // 2, len(pairs) * 9 // 10
    print(f"    {len(pairs)} fiftieths: loudness within {louder[middle]:.2f} dB (nine in ten {louder[high]:.2f}), crossings within {brighter[middle]:.3f} ({brighter[high]:.3f}) of a sample")
    assert louder[middle] < 1 and louder[high] < 3, louder[::20]
    assert brighter[middle] < 0.03 and brighter[high] < 0.1, brighter[::20]


def no_role_is_buried(room: Room) -> None:
    """A waltz, whose band plays softest: each role of the band beside the whole, as decibels of the mean square."""
    with room.desk("ferry-bell-waltz") as desk, room.page(desk.address) as page:
        sheet(page)
        events = page.evaluate(ASK, "ferry-bell-waltz.toml")
        heard = {}
        for role in ("line", "chords", "bass", "drums"):
            data = base64.b64decode(page.evaluate(RENDER, [events, role, 20]))
            heard[role] = struct.unpack(f"<{len(data) // 4}f", data)

    def loud(samples) -> float:
        return 10 * math.log10(sum(value * value for value in samples) / len(samples))

    whole = loud([sum(values) for values in zip(*heard.values())])
    under = {role: whole - loud(samples) for role, samples in heard.items()}
    print("    under the whole: " + ", ".join(f"{role} {one:.1f} dB" for role, one in under.items()))
    assert max(under.values()) < BURIED and min(under, key=under.get) == "line", under


def cents(samples: list[float], hertz: float) -> list[float]:
    """How far the fundamental strays, every hundredth of a second."""
    step = RATE // 100
    window = 2 * round(RATE / hertz)
    turned = [value * cmath.exp(-2j * math.pi * hertz * at / RATE) for at, value in enumerate(samples)]
    sums = [0j]
    for value in turned:
        sums.append(sums[-1] + value)
    phases = [cmath.phase(sums[at + window] - sums[at]) for at in range(0, len(samples) - window, step)]
    strayed = []
    for one, other in zip(phases, phases[1:]):
        turn = (other - one + math.pi) % (2 * math.pi) - math.pi
        strayed.append(1200 * math.log2(1 + turn / (2 * math.pi) * 100 / hertz))
    return strayed


def vibrato_is_the_tracks(room: Room) -> None:
    more = """style = "plain"
[scale]
name = "major"
[figure]
moves = "start, repeat"
count = "1 | 1"
[[exercise]]
kind = "figure"
"""
    lesson = LESSON.format(tempo=60, feel="", silent="chords = 0, bass = 0, drums = 0, click = 0", more=more)
    own, track = rendered(room, lesson, "line", 8)
    depths = []
    for samples in (own, track):
        begins = next(at for at, value in enumerate(samples) if abs(value) > 0.01)
        assert abs(begins / RATE - 4) < 0.1, begins
        note = samples[begins:begins + 3 * RATE]
        crossings = [at for at in range(RATE // 10, RATE // 4) if note[at] < 0 <= note[at + 1]]
        hertz = 440 * 2 ** (round(12 * math.log2(RATE * (len(crossings) - 1) / (crossings[-1] - crossings[0]) / 440)) / 12)
        strayed = cents(note, hertz)
        before, after = strayed[8:27], strayed[70:270]
        rate = sum(one < 0 <= other for one, other in zip(after, after[1:])) / 2
        print(f"    before 0.3 s {max(map(abs, before)):.1f} cents, after 0.7 s {max(map(abs, after)):.1f} cents, {rate:.1f} times a second")
        assert max(map(abs, before)) < 2 and 4.5 <= rate <= 6
        depths.append(sorted(map(abs, after))[len(after) // 2])
    assert 3 < depths[1] < 12 and abs(depths[0] - depths[1]) < 1, depths


CHECKS = [drums_are_the_tracks, vibrato_is_the_tracks, no_role_is_buried]
