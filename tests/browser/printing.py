"""On paper: every page of a sheet on a page of its own, whole, on either paper, and nothing else of the desk."""

import re

from desk import LESSONS, Room, settled, sheet, until

# Points, as a PDF has them.
PAPERS = {"A4": (595.3, 841.9), "Letter": (612.0, 792.0)}


def pages(pdf: bytes, size: tuple[float, float]) -> int:
    """How many pages a PDF of Chromium's has, all of a size."""
    boxes = re.findall(rb"/Type\s*/Page\b(?!s).*?/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)", pdf, re.DOTALL)
    for box in boxes:
        assert all(abs(float(one) - other) < 1.5 for one, other in zip(box, size)), (boxes, size)
    return len(boxes)


def cut(page, selector: str) -> list:
    """What is drawn outside of its picture, or higher than the paper, of all that is printed."""
    return page.evaluate("""selector => [...document.querySelectorAll(selector)].filter(svg => {
        const box = svg.getBoundingClientRect();
        if (box.width === 0 || box.height > innerHeight + 1 || box.width > innerWidth + 1) return true;
        const scale = Math.min(box.width / svg.viewBox.baseVal.width, box.height / svg.viewBox.baseVal.height);
        const ink = svg.getBBox();
        return ink.x < -1 || ink.y < -1 || ink.x + ink.width > svg.viewBox.baseVal.width + 1 || ink.y + ink.height > svg.viewBox.baseVal.height + 1 || !scale;
    }).map(svg => svg.getAttribute('aria-label'))""", selector)


def the_desk_prints_its_sheet(room: Room) -> None:
    with room.desk("lantern-stairs") as desk, room.page(desk.address) as page:
        sheet(page)
        settled(page)
        said = re.search(r"page 1 of (\d+)", sheet(page).get_attribute("aria-label"))
        of = int(said.group(1)) if said else 1
        until(page, "of => document.querySelectorAll('#sheet svg[role=img]').length === of", arg=of)
        page.emulate_media(media="print")
        seen = page.evaluate("""() => [...document.querySelectorAll('header, #writing, #chosen, #transport, #know, #write, #news, button, input, select, textarea')]
            .filter(one => one.getClientRects().length).map(one => one.id || one.tagName)""")
        assert not seen, seen
        for paper, size in PAPERS.items():
            page.set_viewport_size({"width": round(size[0] * 4 / 3), "height": round(size[1] * 4 / 3)})
            assert not cut(page, "#sheet svg[role=img]"), paper
            printed = pages(page.pdf(format=paper), size)
            assert printed == of, (paper, of, printed)
        (room.folder.parent / "pictures" / "desk.pdf").write_bytes(page.pdf(format="A4"))


def the_practice_page_prints(room: Room) -> None:
    room.write(str(LESSONS / "lantern-stairs.toml"), "--out", str(room.folder), "--format", "page", "--instrument", "alto saxophone")
    file = next(room.folder.rglob("practice.html"))
    with room.page(file.as_uri(), color_scheme="dark") as page:
        page.get_by_role("button", name="Play", exact=True).wait_for()
        of = page.locator("svg.sheet").count()
        page.emulate_media(media="print")
        seen = page.evaluate("""() => [...document.querySelectorAll('#player, .care, button, select, section h2')]
            .filter(one => one.getClientRects().length).map(one => one.outerHTML.slice(0, 60))""")
        assert not seen, seen
        assert page.locator("nav table").is_visible(), "the boxes to tick are printed"
        assert page.evaluate("getComputedStyle(document.querySelector('th')).backgroundColor + getComputedStyle(document.body).backgroundColor") == "rgba(0, 0, 0, 0)rgb(255, 255, 255)"
        for paper, size in PAPERS.items():
            page.set_viewport_size({"width": round(size[0] * 4 / 3), "height": round(size[1] * 4 / 3)})
            assert not cut(page, "svg.sheet"), paper
            printed = pages(page.pdf(format=paper), size)
            assert printed == of + 1, (paper, of, printed)
        (room.folder.parent / "pictures" / "practice.pdf").write_bytes(page.pdf(format="A4"))


CHECKS = [the_desk_prints_its_sheet, the_practice_page_prints]
