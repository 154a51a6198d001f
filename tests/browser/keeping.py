"""Nothing lost: files written and edited, two tabs, changes from outside, a server that goes away."""

import json
import shutil
import signal
import threading
import time
import urllib.request

from desk import LESSONS, Desk, Room, has, saved, settled, sheet, text_of, until


def write_edit_write(room: Room) -> None:
    with room.desk("copybook") as desk, room.page(desk.address) as page:
        sheet(page)
        page.get_by_text("What everything is").click()
        for words in ("PDF", "practice page", "MIDI", "wav"):
            box = page.get_by_label(words)
            if box.is_checked():
                box.uncheck()
        written = page.get_by_role("list", name="What was written")
        page.get_by_role("button", name="Write everything").click()
        written.get_by_text("files in copybook").wait_for(timeout=60_000)
        file = next((room.folder / "out").rglob("01-*.musicxml"))
        file.write_text(file.read_text().replace("Copybook", "My Copybook", 1))
        edited = file.read_bytes()
        page.get_by_label("Subtitle").fill("Another line")
        has(page, "Another line")
        page.get_by_role("button", name="Write everything").click()
        written.get_by_text(f"kept: somebody edited").first.wait_for(timeout=60_000)
        assert file.read_bytes() == edited
        assert "Another line" in desk.text("copybook.toml")
        assert list(file.parent.glob("01-*.new.musicxml"))


def two_tabs(room: Room) -> None:
    with room.desk("copybook") as desk, room.page(desk.address) as one:
        address = desk.address
        with room.page(address) as two:
            sheet(one), sheet(two)
            one.get_by_label("Title", exact=True).fill("From one")
            has(one, "From one")
            saved(one)
            two.get_by_label("Title", exact=True).fill("From two")
            has(two, "From two")
            two.get_by_role("button", name="Save", exact=True).click()
            two.get_by_text("changed elsewhere").first.wait_for()
            assert "From one" in desk.text("copybook.toml")
            two.get_by_role("button", name="Keep mine").click()
            assert "From two" in text_of(two)
            saved(two)
            assert "From two" in desk.text("copybook.toml")
            one.get_by_text("changed elsewhere").first.wait_for()
            one.get_by_role("button", name="Take the newer version").click()
            has(one, "From two")


def changed_outside(room: Room) -> None:
    with room.desk("copybook") as desk, room.page(desk.address) as page:
        sheet(page)
        file = room.folder / "copybook.toml"
        file.write_text(file.read_text().replace('title = "Copybook"', 'title = "From outside"'))
        page.get_by_text("changed elsewhere").first.wait_for()
        assert "From outside" not in text_of(page)
        page.get_by_role("button", name="Take the newer version").click()
        has(page, "From outside")
        page.get_by_role("button", name="Undo").click()
        assert 'title = "Copybook"' in text_of(page)


def server_gone(room: Room) -> None:
    with room.desk("copybook") as desk, room.page(desk.address) as page:
        sheet(page)
        desk.stop()
        area = page.get_by_role("textbox", name="Lesson text")
        area.fill(text_of(page).replace('title = "Copybook"', 'title = "While away"'))
        page.get_by_text("isn't answering").wait_for()
        page.wait_for_timeout(500)
        desk.start("--port", str(desk.port))
        page.goto("about:blank")
        page.goto(desk.address)
        page.get_by_text("A draft of this lesson was kept").wait_for()
        page.get_by_role("button", name="Go on with the draft").click()
        has(page, "While away")
        settled(page)
        saved(page)
        assert "While away" in desk.text("copybook.toml")


def new_names(room: Room) -> None:
    with room.desk("copybook") as desk, room.page(desk.address) as page:
        sheet(page)
        page.get_by_role("button", name="Duplicate").click()
        page.get_by_role("button", name="Copy it").click()
        until(page, "document.getElementById('lesson').value === 'copybook-copy.toml'")
        assert desk.text("copybook-copy.toml") == desk.text("copybook.toml")
        page.get_by_role("button", name="Rename").click()
        page.get_by_label("File name").fill("copybook")
        page.get_by_role("button", name="Rename it").click()
        page.get_by_text("a lesson of that name already").wait_for()
        page.get_by_role("button", name="Rename").click()
        page.get_by_label("File name").fill("monday")
        page.get_by_role("button", name="Rename it").click()
        until(page, "document.getElementById('lesson').value === 'monday.toml'")
        page.get_by_role("button", name="Delete").click()
        page.get_by_role("button", name="Delete it").click()
        until(page, "document.getElementById('lesson').value === 'copybook.toml'")
        assert sorted(file.name for file in room.folder.glob("*.toml")) == ["copybook.toml"]


def a_second_desk(room: Room) -> None:
    with room.desk("copybook") as desk:
        other = Desk(room.program, room.folder)
        try:
            assert any("another desk" in line for line in other.told), other.told
            assert other.port != desk.port
            with room.page(other.address) as page:
                page.get_by_text("Another desk is open on this folder").wait_for()
        finally:
            other.stop()


def courses_stay_in_their_files(room: Room) -> None:
    """A course beside its lessons is named, and no lesson."""
    with room.desk("copybook") as desk:
        shutil.copy(LESSONS.parent / "courses" / "lamplight-term.toml", room.folder)
        with room.page(desk.address) as page:
            sheet(page)
            assert page.locator("#lesson option").count() == 2
            course = page.locator("#lesson option[disabled]")
            assert "lamplight-term.toml: a course" in course.inner_text()
            assert page.locator("#lesson").input_value() == "copybook.toml"


ENDLESS = """title = "Endless"
instruments = ["flute", "alto saxophone", "tuba"]
[figure]
moves = "start, step up, step up, step up"
[changes]
bars = "| repeat 31 times Dm7 | G7 |"
[[exercise]]
kind = "changes"
variants = ["all"]
choruses = ["line", "elsewhere", "line", "elsewhere", "line", "elsewhere", "line", "elsewhere"]
"""


def stops_at_once(room: Room) -> None:
    """Whatever the desk is doing: composing for a page, writing audio."""
    for asked in (signal.SIGINT, signal.SIGTERM):
        with room.desk() as desk:
            (room.folder / "endless.toml").write_text(ENDLESS)

            def ask(path: str, **body) -> None:
                request = urllib.request.Request(f"http://127.0.0.1:{desk.port}/api/{path}", json.dumps(body).encode(), {"x-desk-token": desk.token})
                try:
                    urllib.request.urlopen(request, timeout=60).read()
                except OSError:
                    pass

            ask("write", file="endless.toml", formats=["wav", "pdf"])
            shown = {"file": "endless.toml", "text": ENDLESS, "player": 0, "key": ""}
            for path in ("rest", "play", "look"):
                threading.Thread(target=ask, args=(path,), kwargs=shown, daemon=True).start()
            time.sleep(0.6)
            assert desk.process.poll() is None
            begun = time.monotonic()
            desk.process.send_signal(asked)
            assert desk.process.wait(timeout=30) == 0
            took = time.monotonic() - begun
            print(f"    {asked.name}: {took:.2f} s")
            assert took < 3, took
            assert not (room.folder / ".desk.lock").exists()
            halves = [file for file in (room.folder / "out").rglob("*") if file.is_file() and not file.name.startswith(".") and not file.stat().st_size]
            assert not halves, halves


CHECKS = [write_edit_write, two_tabs, changed_outside, server_gone, new_names, a_second_desk, courses_stay_in_their_files, stops_at_once]
