"""What the benchmarks share: whole processes timed, and sheets counted."""

import os
import subprocess
import time


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
