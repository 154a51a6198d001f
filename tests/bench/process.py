"""What the benchmarks share: what they are asked, whole processes timed, and sheets counted."""

import argparse
import json
import os
import subprocess
import tempfile
import time
from pathlib import Path


def begin(option, usual):
    """The program, a fresh folder, the ids of all instruments, and the value of the script's one option."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("binary", type=Path)
    arguments.add_argument("folder", type=Path)
    arguments.add_argument(option, dest="value", type=int, default=usual)
    asked = arguments.parse_args()
    binary = str(asked.binary.resolve())
    asked.folder.mkdir(parents=True, exist_ok=True)
    folder = Path(tempfile.mkdtemp(dir=asked.folder))
    listed = json.loads(subprocess.check_output([binary, "list", "instruments", "--format", "json"]))
    return binary, folder, [one["id"] for one in listed], asked.value


def settle():
    os.sync()
    time.sleep(1)


def timed(command):
    """Seconds, and the peak of memory in MB."""
    begun = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    seconds = time.perf_counter() - begun
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode in (0, 3), (command, child.returncode)
    return seconds, usage.ru_maxrss / 1024


def sheets_in(folder):
    paths = list(folder.rglob("*.musicxml"))
    return len(paths), sum(path.stat().st_size for path in paths)
