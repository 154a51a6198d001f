"""The README's lesson written from nothing, by mouse and by keyboard; what is seen is what is written."""

import re

from desk import Room, has, saved, settled, sheet, text_of, until

MOVES = "start, step up, step up, up 3 steps, repeat, skip down, step up"
COUNT = "1 & 2 & (3) & 4 &"


def same_as_written(room: Room, page, file: str) -> None:
    """The sheet in the page has every mark of the written one, at its place."""
    room.write(str(room.folder / file), "--out", str(room.folder / "written"), "--format", "svg")
    written = sorted((room.folder / "written").rglob("01-*.svg"))[0].read_text()
    seen = page.evaluate("new XMLSerializer().serializeToString(document.querySelector('#sheet svg'))")
    marks = r'<(?:use|path|rect|polygon|text|g|ellipse)\b[^>]*>'
    plain = lambda svg: [re.sub(r'(?:href="#|id=")[^"]*', "", mark).replace(' xmlns="http://www.w3.org/2000/svg"', "").replace("/>", ">") for mark in re.findall(marks, svg)]
    assert len(plain(written)) > 300
    unlike = [pair for pair in zip(plain(seen), plain(written)) if pair[0] != pair[1]]
    assert not unlike and len(plain(seen)) == len(plain(written)), unlike[:3]


def by_mouse(room: Room) -> None:
    with room.desk() as desk, room.page(desk.address) as page:
        page.get_by_text("There is no lesson in this folder yet").wait_for()
        page.get_by_role("button", name="New").click()
        page.get_by_label("Its title").fill("Lantern Stairs")
        page.get_by_role("button", name="Begin it").click()
        sheet(page)
        scale = page.get_by_role("combobox", name="Scale")
        scale.click()
        scale.fill("acoustic")
        page.get_by_role("option", name="Lydian dominant").click()
        has(page, 'name = "lydian dominant"')
        for count in ("3", "3", "3 and", "4", "4", "4 and", "4 and"):
            before = text_of(page)
            page.get_by_role("button", name=count, exact=True).click()
            until(page, "was => document.getElementById('lesson-text').value !== was", arg=before)
            settled(page)
        has(page, COUNT)
        for note in ("2 and higher", "2 and higher", "3 and higher", "3 and higher", "4 and higher"):
            before = text_of(page)
            page.get_by_role("button", name=note, exact=True).click()
            until(page, "was => document.getElementById('lesson-text').value !== was", arg=before)
            settled(page)
        has(page, MOVES)
        page.get_by_role("tab", name="Players").click()
        for name in ("alto sax", "tenor sax", "flute", "trombone"):
            player = page.get_by_role("combobox", name="Add instrument")
            player.click()
            player.fill(name)
            page.locator(".options:visible li").first.click()
            until(page, "name => document.getElementById('lesson-text').value.includes(name)", arg=name)
            settled(page)
        page.get_by_label("Tempo", exact=True).first.fill("96")
        has(page, "tempo = 96")
        page.get_by_label("Feel").fill("swing")
        has(page, 'feel = "swing"')
        page.get_by_label("degrees").first.check()
        has(page, 'labels = ["degrees"]')
        page.get_by_role("tab", name="Exercises").click()
        for kind in ("scale", "figure", "sequence"):
            page.get_by_label("Kind of exercise").select_option(kind)
            page.get_by_role("button", name="Add exercise").click()
            has(page, f'kind = "{kind}"')
        settled(page)
        name = sheet(page).get_attribute("aria-label")
        assert name.startswith("Lantern Stairs, Alto Saxophone in E♭, written A, concert C"), name
        saved(page)
        assert desk.text("lantern-stairs.toml") == text_of(page)
        same_as_written(room, page, "lantern-stairs.toml")


def tab_to(page, name: str, role: str = "") -> None:
    """Goes on by keyboard until an element of that name has the focus."""
    named = """() => { const one = document.activeElement;
        const label = one.getAttribute('aria-label') ?? [...(one.labels ?? [])].map(l => l.textContent).join(' ') ;
        return (label || one.textContent || '').trim(); }"""
    for _ in range(160):
        page.keyboard.press("Tab")
        if page.evaluate(named).startswith(name) and (not role or page.evaluate("document.activeElement.tagName") == role):
            return
    raise AssertionError(f"no way to {name} by keyboard")


def by_keyboard(room: Room) -> None:
    with room.desk() as desk, room.page(desk.address) as page:
        page.get_by_text("There is no lesson in this folder yet").wait_for()
        tab_to(page, "New")
        page.keyboard.press("Enter")
        page.keyboard.type("Lantern Stairs")
        page.keyboard.press("Enter")
        sheet(page)
        tab_to(page, "Scale")
        page.keyboard.press("Control+A")
        page.keyboard.type("lydian dom")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("Enter")
        has(page, 'name = "lydian dominant"')
        tab_to(page, "3", "BUTTON")
        for key, words in (("Enter", "3"), ("Enter", "(3)"), ("ArrowRight", ""), ("Enter", "(3) & (4)"), ("ArrowRight", ""), ("Enter", "(3) &"), ("Enter", "(3) & 4"), ("ArrowRight", ""), ("Enter", "(3) & 4"), ("Enter", COUNT)):
            page.keyboard.press(key)
            if words:
                has(page, words)
                settled(page)
        for places, presses in ((0, 1), (2, 2), (2, 2)):
            for _ in range(places):
                page.keyboard.press("ArrowLeft")
            for _ in range(presses):
                before = text_of(page)
                page.keyboard.press("ArrowUp")
                until(page, "was => document.getElementById('lesson-text').value !== was", arg=before)
                settled(page)
        # From "4 and" two to the left is "3 and", two more "2 and": silence between keeps its count.
        has(page, MOVES)
        tab_to(page, "Exercises")
        page.keyboard.press("ArrowRight")
        tab_to(page, "Add instrument")
        page.keyboard.type("alto sax")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("Enter")
        has(page, "alto saxophone")
        page.keyboard.press("Control+S")
        until(page, "document.querySelector('.state')?.textContent === 'saved'")
        page.keyboard.press("Control+Z")
        until(page, "!document.getElementById('lesson-text').value.includes('alto saxophone')")
        page.keyboard.press("Control+Shift+Z")
        has(page, "alto saxophone")
        settled(page)
        same_as_written(room, page, "lantern-stairs.toml")


def a_mistake_and_its_mending(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        was = sheet(page).get_attribute("aria-label")
        area = page.get_by_role("textbox", name="Lesson text")
        right = text_of(page)
        area.fill(right.replace('"lydian dominant"', '"lydain dominant"'))
        mistakes = page.get_by_role("list", name="Mistakes")
        mistakes.get_by_text("lydain dominant").wait_for()
        assert "lydian-dominant" in mistakes.inner_text().lower() or "lydian dominant" in mistakes.inner_text().lower()
        assert page.locator(".behind mark").inner_text() == '"lydain dominant"'
        assert sheet(page).get_attribute("aria-label") == was, "the last good sheet stays"
        mistakes.get_by_role("button").first.click()
        marked = page.evaluate("(() => { const a = document.getElementById('lesson-text'); return a.value.slice(a.selectionStart, a.selectionEnd); })()")
        assert marked == '"lydain dominant"', marked
        page.keyboard.type('"dorian"')
        until(page, "document.getElementById('mistakes').hidden")
        settled(page)
        assert page.get_by_role("combobox", name="Scale").input_value() == "dorian"
        assert right.split("\n")[0] in text_of(page), "comments stay"


CHECKS = [by_mouse, by_keyboard, a_mistake_and_its_mending]
