"""Measures how time and memory grow with the number of sheets, from 100 on.

    growth.py BINARY FOLDER [--most SHEETS]

By itself, and small: a child's peak counts the memory of the process it began in. Each run writes into a fresh folder;
nothing is deleted.
"""

import library
from process import begin, settle, sheets_in, timed


def main():
    binary, folder, instruments, most = begin("--most", 100_000)
    print("| sheets | seconds | µs a sheet | peak MB |")
    wanted = 100
    while wanted <= most:
        per_lesson = min(wanted, 12 * len(instruments))
        grown = folder / f"grown-{wanted}"
        library.lessons(grown, -(-wanted // per_lesson), instruments[: -(-per_lesson // 12)])
        settle()
        out = folder / f"grown-{wanted}-out"
        seconds, peak = timed([binary, "write", str(grown), "--out", str(out)])
        count, _ = sheets_in(out)
        print(f"| {count} | {seconds:.2f} | {1e6 * seconds / count:.0f} | {peak:.1f} |", flush=True)
        wanted *= 10
    print(f"What was written is left in {folder}.")


if __name__ == "__main__":
    main()
