"""A desk that is open, and a browser to look at it with."""

import re
import shutil
import subprocess
import time
from contextlib import contextmanager
from pathlib import Path

SWITCHES = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run", "--autoplay-policy=no-user-gesture-required"]
LESSONS = Path(__file__).parents[2] / "fixtures" / "lessons"
PATIENCE = 10_000


class Desk:
    """A running desk over a folder of lessons."""

    def __init__(self, program: Path, folder: Path):
        self.program, self.folder = program, folder
        self.start()

    def start(self, *more: str) -> None:
        command = [str(self.program), "desk", str(self.folder), "--no-browser", *more]
        self.process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
        self.told = []
        for line in self.process.stderr:
            self.told.append(line)
            if found := re.search(r"http://\S+", line):
                self.address = found.group()
                break
        self.port = int(re.search(r":(\d+)/", self.address).group(1))
        self.token = re.search(r"token=(\w+)", self.address).group(1)

    def stop(self) -> None:
        self.process.terminate()
        self.process.wait()

    def text(self, name: str) -> str:
        return (self.folder / name).read_text()


class Room:
    """What a check is given: the program, a browser, an empty folder of its own."""

    def __init__(self, program: Path, browser, folder: Path):
        self.program, self.browser, self.folder = program, browser, folder

    @contextmanager
    def desk(self, *lessons: str):
        shutil.rmtree(self.folder, ignore_errors=True)
        self.folder.mkdir(parents=True)
        for lesson in lessons:
            shutil.copy(LESSONS / f"{lesson}.toml", self.folder)
        desk = Desk(self.program, self.folder)
        try:
            yield desk
        finally:
            desk.stop()

    @contextmanager
    def page(self, address: str, **wishes):
        context = self.browser.new_context(**({"viewport": {"width": 1280, "height": 900}} | wishes))
        context.set_default_timeout(PATIENCE)
        page = context.new_page()
        faults = []
        page.on("pageerror", lambda fault: faults.append(str(fault)))
        page.on("console", lambda said: faults.append(said.text) if "Content Security Policy" in said.text else None)
        page.goto(address)
        try:
            yield page
        finally:
            context.close()
        assert not faults, faults

    def write(self, *arguments: str) -> None:
        done = subprocess.run([str(self.program), "write", *arguments, "--quiet"], capture_output=True, text=True)
        assert done.returncode in (0, 3), done.stderr


def until(page, words: str, arg=None, timeout: int = PATIENCE) -> None:
    """Waits until something is so. Asked from outside: the desk's policy lets no page evaluate words."""
    end = time.monotonic() + timeout / 1000
    while not page.evaluate(words, arg):
        if time.monotonic() > end:
            raise AssertionError(f"never came true: {words} {arg or ''}")
        page.wait_for_timeout(30)


def text_of(page) -> str:
    return page.get_by_role("textbox", name="Lesson text").input_value()


def has(page, words: str) -> None:
    """Waits until the text says something."""
    try:
        until(page, "words => document.getElementById('lesson-text').value.includes(words)", arg=words)
    except AssertionError:
        raise AssertionError(f"the text never says {words}:\n{text_of(page)}\n{page.locator('#news').inner_text()}") from None


def sheet(page):
    """The first page of the sheet, once it is there."""
    page.wait_for_selector("#sheet svg[role=img]")
    return page.locator("#sheet svg[role=img]").first


def saved(page) -> None:
    page.get_by_role("button", name="Save", exact=True).click()
    until(page, "document.querySelector('.state')?.textContent === 'saved'")


def settled(page) -> None:
    """Waits until what is shown is what the text says."""
    page.wait_for_timeout(250)
    until(page, "!document.querySelector('#sheet.old')")
