"""Every word that a lesson holds has its place: changes, tracks, weights, figures, words over bars, own horns; by mouse and by keyboard."""

from desk import Room, has, settled, sheet, text_of, until
from writing_lessons import tab_to


def lacks(page, words: str) -> None:
    until(page, "words => !document.getElementById('lesson-text').value.includes(words)", arg=words)


def faultless(page) -> None:
    settled(page)
    page.wait_for_timeout(150)
    assert page.get_by_role("list", name="Mistakes").get_by_role("listitem").count() == 0, page.locator("#mistakes").inner_text() + text_of(page)


def opened(page, place: str = "#parts") -> None:
    page.evaluate("place => document.querySelectorAll(place + ' details').forEach(one => { one.open = true; })", place)


def changes_by_mouse(room: Room) -> None:
    with room.desk("smallest") as desk, room.page(desk.address) as page:
        sheet(page)
        page.get_by_role("tab", name="Changes").click()
        page.get_by_role("button", name="Begin changes").click()
        has(page, 'bars = "| Dm7 | G7 | Cmaj7 | same |"')
        has(page, 'kind = "changes"')
        faultless(page)
        page.get_by_label("Bars", exact=True).fill("| Dm7 | G7 | Cm7 | same |\n| Dm7 | Db7 | Cmaj7 | same |")
        has(page, 'bars = """\n| Dm7 | G7 | Cm7 | same |\n| Dm7 | Db7')
        page.get_by_label("Chord, motion or bar").fill("7 to minor")
        scale = page.get_by_role("combobox", name="Scale for it")
        scale.fill("altered")
        page.locator(".options:visible li").first.click()
        has(page, '"7 to minor" = "altered"')
        page.get_by_role("button", name="Make sections of them").click()
        has(page, '[[section]]\nname = "A"\nbars = """')
        lacks(page, "[changes]\nbars")
        form = page.get_by_label("Form: add")
        for section in ("A", "A"):
            form.fill(section)
            form.press("Enter")
            page.wait_for_timeout(100)
        has(page, 'form = ["A", "A"]')
        faultless(page)
        page.get_by_role("button", name="Remove A", exact=True).first.click()
        has(page, 'form = ["A"]')
        page.get_by_role("tab", name="Exercises").click()
        opened(page)
        smooth = page.get_by_label("smooth", exact=True)
        smooth.fill("5")
        smooth.press("Tab")
        has(page, "weights = { smooth = 5 }")
        page.get_by_label("strong beats").fill("1")
        page.get_by_label("strong beats").press("Tab")
        has(page, "weights = { smooth = 5, strong_beats = 1 }")
        smooth.fill("")
        smooth.press("Tab")
        has(page, "weights = { strong_beats = 1 }")
        page.get_by_label("strong beats").fill("")
        page.get_by_label("strong beats").press("Tab")
        lacks(page, "weights")
        settled(page)
        page.get_by_label("Which one").fill("2")
        page.get_by_label("Words to stand there").fill("listen")
        page.get_by_role("button", name="Add words").click()
        has(page, 'words = { "bar 2" = "listen" }')
        until(page, "[...document.querySelectorAll('#sheet svg text')].some(one => one.textContent.includes('listen'))")
        page.get_by_role("button", name="Remove the words over bar 2").click()
        lacks(page, "words")
        page.get_by_role("button", name="Add another figure").click()
        has(page, 'name = "figure 2"')
        has(page, 'name = "figure 1"')
        for figure in ("figure 1", "figure 2"):
            page.locator("#parts").get_by_label(figure, exact=True).check()
        has(page, 'figures = ["figure 1", "figure 2"]')
        faultless(page)
        assert page.get_by_role("img", name="Staff: ").count() == 2
        page.get_by_role("tab", name="Changes").click()
        page.get_by_role("button", name="Remove the changes, and what plays over them").click()
        lacks(page, "[changes]")
        lacks(page, "[[section]]")
        lacks(page, "[choose]")
        faultless(page)


def the_rest_by_mouse(room: Room) -> None:
    with room.desk("smallest") as desk, room.page(desk.address) as page:
        sheet(page)
        opened(page, "#head")
        page.get_by_label("Paper").select_option("letter")
        has(page, 'paper = "letter"')
        page.get_by_label("A paragraph of your own").first.fill("Slowly.\n\nRest when you like.")
        has(page, 'text = """\nSlowly.\n\nRest when you like."""')
        page.get_by_label("Its chord").fill("maj7")
        has(page, 'chord = "maj7"')
        page.get_by_role("button", name="Add another scale").click()
        has(page, "[[scale]]")
        page.get_by_role("button", name="Remove scale").last.click()
        page.get_by_role("tab", name="Tracks").click()
        page.get_by_label("The band plays").select_option("bossa")
        has(page, 'style = "bossa"')
        page.get_by_label("slow").check()
        has(page, 'forms = ["slow"]')
        page.locator("#parts").get_by_label("bass", exact=True).fill("80")
        page.locator("#parts").get_by_label("bass", exact=True).press("Tab")
        has(page, "levels = { bass = 80 }")
        faultless(page)
        page.get_by_role("tab", name="Players").click()
        opened(page)
        page.get_by_role("button", name="Describe a horn").click()
        has(page, 'name = "Own horn 1"')
        page.get_by_role("article", name="Horn Own horn 1").wait_for()
        player = page.get_by_role("combobox", name="Add instrument")
        player.fill("own horn")
        page.locator(".options:visible li").first.click()
        has(page, 'instruments = ["Own horn 1"]')
        faultless(page)
        page.get_by_role("tab", name="Exercises").click()
        page.get_by_role("button", name="Add exercise").click()
        has(page, 'kind = "sequence"')
        turned = page.get_by_label("Turned before it is played: add")
        turned.fill("flipped, begun on note 2")
        turned.press("Enter")
        has(page, 'variants = ["flipped", "begun on note 2"]')
        page.get_by_role("button", name="Remove flipped").click()
        has(page, 'variants = ["begun on note 2"]')
        faultless(page)
        page.get_by_role("img", name="Staff: ").wait_for()


def changes_by_keyboard(room: Room) -> None:
    with room.desk("smallest") as desk, room.page(desk.address) as page:
        sheet(page)
        tab_to(page, "Exercises")
        for _ in range(3):
            page.keyboard.press("ArrowRight")
        tab_to(page, "Begin changes")
        page.keyboard.press("Enter")
        has(page, "[changes]")
        settled(page)
        tab_to(page, "Bars")
        page.keyboard.press("Control+A")
        page.keyboard.type("| Dm7 | G7 | Cm7 | same |")
        has(page, "| Dm7 | G7 | Cm7 | same |")
        tab_to(page, "Chord, motion or bar")
        page.keyboard.type("bar 2")
        tab_to(page, "Scale for it")
        page.keyboard.type("half whole")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("Enter")
        has(page, '"bar 2" = "diminished')
        faultless(page)


CHECKS = [changes_by_mouse, the_rest_by_mouse, changes_by_keyboard]
