"""The desk and the practice page in a real browser.

    python main.py PROGRAM BROWSER FOLDER [CHECK…]

Writes into FOLDER, where its pictures can be looked at. Ends with `N passed, N failed`; exit code 1 if any failed."""

import shutil
import sys
import time
import traceback
from pathlib import Path

from playwright.sync_api import sync_playwright

import asking
import by_hand
import every_word
import keeping
import looking
import playing
import practice
import printing
import sounding
import writing_lessons
from desk import SWITCHES, Room

PARTS = [asking, writing_lessons, by_hand, every_word, playing, sounding, keeping, looking, practice, printing]


def main() -> int:
    program, browser, folder = Path(sys.argv[1]).absolute(), sys.argv[2], Path(sys.argv[3]).absolute()
    wanted = sys.argv[4:]
    shutil.rmtree(folder, ignore_errors=True)
    (folder / "pictures").mkdir(parents=True)
    passed = failed = 0
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=browser, args=SWITCHES)
        for check in (check for part in PARTS for check in part.CHECKS):
            name = check.__name__.replace("_", " ")
            if wanted and check.__name__ not in wanted:
                continue
            begun = time.monotonic()
            print(f"{name} …", flush=True)
            try:
                check(Room(program, chromium, folder / check.__name__))
                passed += 1
                print(f"  ok ({time.monotonic() - begun:.1f} s)", flush=True)
            except Exception:
                failed += 1
                print(f"  FAILED {name}\n{traceback.format_exc()}", flush=True)
        chromium.close()
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
