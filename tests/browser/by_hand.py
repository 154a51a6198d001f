"""The figure by hand: its staff in step with its counts, by mouse and by keyboard, and heard by itself."""

from desk import Room, has, settled, sheet, until


def staff_in_step(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        sheet(page)
        staff = page.get_by_role("img", name="Staff: ")
        staff.wait_for()
        assert staff.get_attribute("aria-label") == "Staff: A4, B4, C♯5, F♯5, F♯5, D♯5, E5", staff.get_attribute("aria-label")
        assert staff.locator("g.note").count() == 7
        # A count in focus lights its note; a click on a note goes to its count.
        page.get_by_role("button", name="3 and", exact=True).focus()
        assert staff.locator("g.note.lit").get_attribute("data-onset") == "5/2"
        page.keyboard.press("ArrowLeft")
        assert staff.locator("g.note.lit").count() == 0, "3 is silent"
        staff.locator("g.note").nth(1).click(force=True)
        assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "1 and"
        page.keyboard.press("ArrowUp")
        has(page, "start, skip up, repeat,")
        staff.and_(page.get_by_label("Staff: A4, C♯5, C♯5, F♯5, F♯5, D♯5, E5")).wait_for()
        page.keyboard.press("Shift+ArrowDown")
        page.get_by_role("img", name="Staff: A4, C♯4, C♯5").wait_for()
        page.get_by_role("button", name="Undo").click()
        page.get_by_role("button", name="Undo").click()
        page.get_by_role("img", name="Staff: A4, B4, C♯5").wait_for()
        # A mistake elsewhere leaves the last good staff; another player reads it his way.
        area = page.get_by_role("textbox", name="Lesson text")
        right = area.input_value()
        area.fill(right.replace('"swing"', '"swong"'))
        page.get_by_role("list", name="Mistakes").get_by_role("listitem").first.wait_for()
        assert page.get_by_role("img", name="Staff: A4, B4, C♯5").count() == 1
        area.fill(right)
        settled(page)
        page.get_by_label("Player", exact=True).select_option(label="Trombone")
        page.get_by_role("img", name="Staff: C3, D3, E3").wait_for()


def heard_by_itself(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        sheet(page)
        page.get_by_role("img", name="Staff: ").wait_for()
        page.evaluate("""() => { window.seen = []; new MutationObserver(() => {
            const note = document.querySelector('.staff g.lit'), count = document.querySelector('.count.lit');
            const now = note && count ? note.dataset.onset + ' ' + count.dataset.count : '';
            if (now && window.seen.at(-1) !== now) window.seen.push(now);
        }).observe(document.getElementById('figure'), { subtree: true, attributes: true, attributeFilter: ['class'] }); }""")
        page.get_by_role("button", name="Hear the figure").click()
        page.get_by_role("button", name="Stop the figure").wait_for()
        page.get_by_role("button", name="Hear the figure").wait_for(timeout=20_000)
        seen = page.evaluate("window.seen")
        assert seen == [f"{at} {at}" for at in ("0", "1/2", "1", "3/2", "5/2", "3", "7/2")], seen
        page.get_by_role("button", name="Hear the figure").click()
        page.get_by_role("button", name="Stop the figure").click()
        page.get_by_role("button", name="Hear the figure").wait_for()
        assert page.locator(".staff g.lit, .count.lit").count() == 0
        until(page, "document.querySelectorAll('#transport button')[1].disabled")


CHECKS = [staff_in_step, heard_by_itself]
