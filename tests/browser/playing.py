"""The player: what is lit is what sounds, tempo and loop, and its sound against the track's MIDI."""

import base64
import math
import struct

import mido

from desk import Room, has, settled, sheet, until

WATCH = """() => { window.seen = []; const start = performance.now();
    new MutationObserver(() => { const one = document.querySelector('#sheet g.lit');
        const now = one ? one.dataset.bar + ' ' + one.dataset.onset : '';
        if (now && window.seen.at(-1)?.[1] !== now) window.seen.push([performance.now() - start, now]);
    }).observe(document.getElementById('sheet'), { subtree: true, attributes: true, attributeFilter: ['class'] }); }"""

EVENTS = """async (file) => { const text = document.getElementById('lesson-text').value;
    const answer = await fetch('/api/play', { method: 'POST', headers: { 'x-desk-token': sessionStorage.getItem('desk-token') },
        body: JSON.stringify({ file: file ?? 'lantern-stairs.toml', text, player: 0, key: '' }) });
    return answer.json(); }"""


def lit_is_sounding(page, events) -> None:
    """Plays two bars: what is lit is what sounds, when it sounds."""
    page.evaluate(WATCH)
    page.get_by_role("button", name="Play", exact=True).click()
    until(page, "window.seen.some(([, at]) => at.startsWith('3 '))", timeout=20_000)
    page.get_by_role("button", name="Stop", exact=True).click()
    assert page.locator("#sheet g.lit").count() == 0
    seen = [note for note in page.evaluate("window.seen") if not note[1].startswith("3 ")]
    expected = [note for note in events["notes"] if note[1] in ("1", "2")]
    assert [at for _, at in seen] == [f"{bar} {within}" for _, bar, within in expected]
    each = 60_000 / events["perMinute"] / events["perQuarter"]
    late = [at - seen[0][0] - (note[0] - expected[0][0]) * each for (at, _), note in zip(seen, expected)]
    assert max(map(abs, late)) < 180, late


def two_bars(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        sheet(page)
        lit_is_sounding(page, page.evaluate(EVENTS))


def over_changes(room: Room) -> None:
    """An etude over changes, opened, changed by its card, and played as it then is."""
    with room.desk("seven-locks") as desk, room.page(desk.address) as page:
        sheet(page)
        line = "[...document.querySelectorAll('#sheet g.note .notehead')].slice(0, 60).map(one => one.getAttribute('y')).join(' ')"
        was = page.evaluate(line)
        page.get_by_text("Choices of A").click()
        page.get_by_label("Degrees to begin on").first.fill("1")
        has(page, 'begins = "1"')
        until(page, f"was => {line} !== was", arg=was)
        settled(page)
        page.locator("#tempo").fill("100")
        events = page.evaluate(EVENTS, "seven-locks.toml")
        assert events["bass"] and events["drums"], "a band plays over changes"
        lit_is_sounding(page, events)
        page.locator("#transport").get_by_label("line").uncheck()
        page.get_by_role("button", name="Play", exact=True).click()
        until(page, "document.getElementById('transport').dataset.playing")
        page.screenshot(path=room.folder.parent / "pictures" / "over-changes.png")
        page.get_by_role("button", name="Stop", exact=True).click()


def loop_and_tempo(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        sheet(page)
        until(page, "document.getElementById('from-bar').options.length > 3")
        page.get_by_label("Count in").uncheck()
        page.get_by_label("From bar").select_option(label="2")
        page.get_by_label("To bar").select_option(label="2")
        page.get_by_label("Loop").check()
        page.locator("#tempo").fill("240")
        page.evaluate(WATCH)
        page.get_by_role("button", name="Play", exact=True).click()
        until(page, "window.seen.filter(([, at]) => at === '2 0').length > 2", timeout=15_000)
        page.locator("#tempo").fill("120")
        page.wait_for_timeout(300)
        page.evaluate("window.seen.length = 0")
        until(page, "window.seen.filter(([, at]) => at === '2 0').length > 1", timeout=15_000)
        page.get_by_role("button", name="Stop", exact=True).click()
        seen = page.evaluate("window.seen")
        assert {at.split()[0] for _, at in seen} == {"2"}, seen
        starts = [when for when, at in seen if at == "2 0"]
        assert abs(starts[1] - starts[0] - 2000) < 250, starts


def hidden_is_silent(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        sheet(page)
        page.get_by_role("button", name="Play", exact=True).click()
        until(page, "document.getElementById('transport').dataset.playing")
        page.evaluate("Object.defineProperty(document, 'hidden', { value: true }); document.dispatchEvent(new Event('visibilitychange'))")
        until(page, "!document.getElementById('transport').dataset.playing")


RENDER = """async (events) => {
    const { Player } = await import('/sound.js');
    const seconds = Math.ceil(events.end / events.perQuarter * 60 / events.perMinute) + 1;
    const context = new OfflineAudioContext(1, 22050 * seconds, 22050);
    new Player({ ...events, chords: [], bass: [], drums: [], click: [] }, context).setAll();
    const samples = (await context.startRendering()).getChannelData(0);
    let text = '';
    const bytes = new Uint8Array(samples.buffer);
    for (let at = 0; at < bytes.length; at += 32768) text += String.fromCharCode(...bytes.subarray(at, at + 32768));
    return btoa(text); }"""


def strength(samples, start: int, length: int, hertz: float) -> float:
    """How much of a frequency there is (Goertzel)."""
    turn = 2 * math.cos(2 * math.pi * hertz / 22050)
    one = two = 0.0
    for sample in samples[start:start + length]:
        one, two = sample + turn * one - two, one
    return one * one + two * two - turn * one * two


def sound_is_the_track(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        sheet(page)
        events = page.evaluate(EVENTS)
        data = base64.b64decode(page.evaluate(RENDER, events))
        room.write(str(room.folder / "lantern-stairs.toml"), "--out", str(room.folder / "tracks"), "--format", "midi", "--instrument", "alto saxophone", "--key", "C")
    samples = struct.unpack(f"<{len(data) // 4}f", data)
    track = mido.MidiFile(next((room.folder / "tracks").rglob("01-*.mid")))
    at, notes = 0.0, []
    for message in track:
        at += message.time
        if message.type == "note_on" and message.velocity and message.channel == 0:
            notes.append([at, message.note, at])
        elif message.type in ("note_on", "note_off") and message.channel == 0:
            for note in reversed(notes):
                if note[1] == message.note:
                    note[2] = at
                    break
    assert len(notes) == len(events["line"]) > 100
    for (begins, key, ends), (onset, _, number, _) in zip(notes, events["line"]):
        assert number == key
        seconds = onset / events["perQuarter"] * 60 / events["perMinute"]
        assert abs(seconds - begins) < 0.002, (seconds, begins)
        start = int(begins * 22050)
        before = max(map(abs, samples[max(0, start - 40):start + 1]), default=0)
        after = max(map(abs, samples[start + 100:start + 700]))
        assert after > 0.02 and before < after / 2, (begins, before, after)
        length = min(4096, int((ends - begins) * 22050) - 500)
        hertz = 440 * 2 ** ((key - 69) / 12)
        own, lower, higher = (strength(samples, start + 200, length, hertz * 2 ** (by / 12)) for by in (0, -1, 1))
        assert own > 2 * max(lower, higher), (begins, key)


CHECKS = [two_bars, over_changes, loop_and_tempo, hidden_is_silent, sound_is_the_track]
