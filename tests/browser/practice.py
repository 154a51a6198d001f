"""The practice page: from a file, without a network."""

import gzip

from axe_playwright_python.sync_playwright import Axe

from desk import LESSONS, Room

COURSE = LESSONS.parent / "courses" / "lamplight-term.toml"


def without_a_network(room: Room) -> None:
    room.write(str(LESSONS / "lantern-stairs.toml"), "--out", str(room.folder), "--format", "page", "--instrument", "alto saxophone")
    file = next(room.folder.rglob("practice.html"))
    with room.page("about:blank", viewport={"width": 390, "height": 800}) as page:
        page.context.set_offline(True)
        asked = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(file.as_uri())
        page.get_by_role("button", name="Play", exact=True).wait_for()
        assert all(url.startswith("file:") for url in asked), asked
        assert page.locator("svg.sheet:visible").count() >= 1
        page.get_by_label("A, 96").check()
        page.get_by_role("link", name="D", exact=True).click()
        assert "written D, sounds F" in page.locator("#player").inner_text()
        page.reload()
        assert page.get_by_label("A, 96").is_checked()
        assert "written D" in page.locator("#player").inner_text(), "the key is remembered"
        assert page.locator("#player").bounding_box()["height"] < 160, "the sheet has the room"
        page.get_by_text("From which bar").click()
        page.get_by_label("Count in").uncheck()
        page.get_by_role("button", name="Play", exact=True).click()
        page.wait_for_selector("g.lit")
        page.get_by_role("button", name="Stop", exact=True).click()
        page.get_by_role("button", name="Tuning note").click()
        assert page.get_by_role("button", name="Tuning note").get_attribute("aria-pressed") == "true"
        page.get_by_role("button", name="Metronome alone").click()
        page.get_by_role("button", name="Stop", exact=True).wait_for()
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
        page.screenshot(path=room.folder.parent / "pictures" / "practice-phone.png")
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert over <= 0, over
    with room.page(file.as_uri(), java_script_enabled=False) as page:
        assert page.locator("svg.sheet").count() >= 12, "all sheets are there without a script"
        assert page.locator("#player").is_hidden()


def weeks_of_a_course(room: Room) -> None:
    """A week at a time, its lessons in it; ticks of a lesson that comes again are another week's."""
    room.write(str(COURSE), "--out", str(room.folder), "--format", "page")
    file = min(room.folder.glob("lamplight-term/*/practice.html"))
    with room.page("about:blank", viewport={"width": 390, "height": 800}) as page:
        page.context.set_offline(True)
        page.goto(file.as_uri())
        page.get_by_role("button", name="Play", exact=True).wait_for()
        weeks = page.locator("details.week")
        assert weeks.count() >= 3
        assert page.locator("details.week[open]").count() == 1
        ids = page.evaluate("[...document.querySelectorAll('[data-tick]')].map(one => one.dataset.tick)")
        assert len(ids) == len(set(ids)), "each box is kept under a name of its own"
        links = page.evaluate("[...document.querySelectorAll('details.week')].map(week => [...week.querySelectorAll('a')].map(one => one.hash.slice(1)))")
        known = page.evaluate("[...document.querySelectorAll('main section')].map(one => one.id)")
        assert {stem for week in links for stem in week} == set(known), "every sheet is some week's"
        last = weeks.last
        last.locator("summary").click()
        box = last.locator("[data-tick]").first
        box.check()
        tick = box.get_attribute("data-tick")
        last.get_by_role("link").first.click()
        heading = last.locator("h3").first.inner_text()
        assert heading in page.locator("#player").inner_text(), heading
        page.get_by_label("Tempo").fill("61")
        page.reload()
        page.get_by_role("button", name="Play", exact=True).wait_for()
        assert last.evaluate("one => one.open"), "the week is remembered"
        assert page.locator(f'[data-tick="{tick}"]').is_checked()
        assert page.locator("[data-tick]:checked").count() == 1
        assert page.get_by_label("Tempo").input_value() == "61" and heading in page.locator("#player").inner_text()
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
        page.screenshot(path=room.folder.parent / "pictures" / "practice-weeks.png")
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert over <= 0, over
    size = file.stat().st_size
    print(f"    {len(known)} sheets in {weeks_in(file)} weeks, {size / 1e6:.2f} MB")


def weeks_in(file) -> int:
    return file.read_text().count('<details class="week"')


def small_enough(room: Room) -> None:
    room.write(*map(str, sorted(LESSONS.glob("*.toml"))), "--out", str(room.folder), "--format", "page")
    sizes = []
    for file in room.folder.rglob("practice.html"):
        page = file.read_bytes()
        sizes.append((len(gzip.compress(page, 9)), len(page), file))
        ids = [part.split(b'"')[0] for part in page.split(b'<path id="')[1:]]
        assert len(ids) == len(set(ids)), f"{file}: an outline stands twice"
    packed, plain = max(sizes), max(sizes, key=lambda size: size[1])
    print(f"    {len(sizes)} pages; largest {plain[1] / 1e6:.2f} MB ({plain[2].parent}), {packed[0] / 1e3:.0f} kB packed ({packed[2].parent})")
    assert plain[1] < 2_500_000 and packed[0] < 400_000


CHECKS = [without_a_network, weeks_of_a_course, small_enough]
