"""Found by everyone: an accessibility check of each part, at two widths, light and dark; pictures to look at."""

from axe_playwright_python.sync_playwright import Axe

from desk import Room, sheet


def clean(page, where: str) -> None:
    # What is inside of an image is black on its own white paper, which axe can't see.
    found = Axe().run(page, context={"exclude": [["svg[role=img] > *"]]})
    assert found.violations_count == 0, f"{where}: {found.generate_report()}"


def nothing_found(room: Room) -> None:
    pictures = room.folder.parent / "pictures"
    pictures.mkdir(exist_ok=True)
    with room.desk("lantern-stairs", "crooked-pier") as desk:
        for width in (1280, 800):
            for scheme in ("light", "dark"):
                with room.page(f"{desk.address}&lesson=lantern-stairs.toml", viewport={"width": width, "height": 900}, color_scheme=scheme) as page:
                    sheet(page)
                    page.wait_for_timeout(500)
                    page.screenshot(path=pictures / f"desk-{width}-{scheme}.png", full_page=width == 800)
                    for tab in ("Exercises", "Players", "Keys", "Changes", "Tracks"):
                        page.get_by_role("tab", name=tab).click()
                        page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
                        clean(page, f"{tab}, {width}, {scheme}")
                    over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
                    assert over <= 0, f"{width}: {over} too wide"
        with room.page(f"{desk.address}&lesson=crooked-pier.toml") as page:
            sheet(page)
            area = page.get_by_role("textbox", name="Lesson text")
            area.fill(area.input_value().replace("euphonium", "euphonim"))
            page.get_by_role("list", name="Mistakes").get_by_role("listitem").first.wait_for()
            clean(page, "with a mistake")
            page.get_by_role("button", name="New").click()
            clean(page, "a question")


CHECKS = [nothing_found]
