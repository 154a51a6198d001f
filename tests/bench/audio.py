"""Measures practice tracks as sound: how fast they are made, beside FluidSynth and the flac program on the same tracks, and what
is heard in them: loudness and peaks (ffmpeg's ebur128), the line over the band, the bass on a small loudspeaker, each role beside
the whole, slurs, staccato, edges. By hand; it wants `fluidsynth`, `flac` and `ffmpeg`, and numpy and pillow.

    audio.py BINARY FOLDER [--font FONT.sf2] [--rounds N] [--only speed|heard|roles]

Seconds are the processor's, since other work on the machine then hardly matters. Three spectrograms are left in FOLDER.
"""

import argparse
import os
import re
import statistics
import subprocess
import tempfile
import wave
from pathlib import Path

import numpy
from PIL import Image

LESSONS = Path(__file__).parents[2] / "fixtures" / "lessons"
RATE = 44_100
# A player and a key of each: over changes in swing, in three, blues; studies over a drone; slurs and staccato.
HEARD = {
    "winter-quay": ("flute", "F"),
    "ferry-bell-waltz": ("alto-saxophone", "G"),
    "coal-barge-blues": ("b-flat-trumpet", "Bb"),
    "crooked-pier": ("euphonium", "F"),
    "lantern-stairs": ("alto-saxophone", "C"),
    "heron-weir": ("flute", "C"),
}
# What `levels` names.
ROLES = ("line", "chords", "bass", "drums", "click")
# Lessons as they are shipped: a drone, swing, swing over four choruses, a drone that even eighths follow, a drone that swing
# follows, a waltz; and one lesson in every style of its meter, clicked throughout.
SHIPPED = [
    ("lantern-stairs", "alto saxophone", "C"),
    ("coal-barge-blues", "b-flat trumpet", "Bb"),
    ("gravel-tow", "Ballast", "F"),
    ("heron-weir", "Front desk", "C"),
    ("sluice-keeper", "Bridge", "C"),
    ("ferry-bell-waltz", "flute", "G"),
]
STYLES = ("swing", "two-beat", "bossa", "funk", "shuffle", "ballad", "even eighths", "drone", "plain")
# A role so far under the whole, in LU, is buried.
BURIED = 18


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("binary", type=Path)
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--font", type=Path, default=Path("/usr/share/sounds/sf2/FluidR3_GM.sf2"))
    arguments.add_argument("--rounds", type=int, default=3)
    arguments.add_argument("--only", choices=("speed", "heard", "roles"))
    asked = arguments.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    folder = Path(tempfile.mkdtemp(dir=asked.folder))
    binary = str(asked.binary.resolve())
    if asked.only in (None, "speed"):
        speed(binary, folder, asked.font, asked.rounds)
    if asked.only in (None, "heard"):
        heard(binary, folder)
        played(binary, folder)
    if asked.only in (None, "roles"):
        roles(binary, folder, [])
        roles(binary, folder, ["--soundfont", str(asked.font)])


# How fast


def speed(binary, folder, font, rounds):
    for minutes, times in (("short", 1), ("long", 12)):
        lesson = with_track(folder, "winter-quay", f"times = {times}")
        command = [binary, "write", str(lesson), "--instrument", "flute", "--key", "F", "--jobs", "1"]
        midi = one(made(command + ["--format", "midi"], folder / "midi"), ".mid")
        runs = {
            "WAV, plain voice": lambda out: command + ["--format", "wav", "--out", str(out)],
            "FLAC, plain voice": lambda out: command + ["--format", "flac", "--out", str(out)],
            "FLAC, SoundFont": lambda out: command + ["--format", "flac", "--soundfont", str(font), "--out", str(out)],
            "fluidsynth, WAV": lambda out: ["fluidsynth", "-ni", "-q", "-R", "0", "-C", "0", "-r", str(RATE), "-F", str(out / "f.wav"), str(font), str(midi)],
        }
        figures = {name: [] for name in runs}
        sizes = {}
        for round in range(rounds if times == 1 else 1):
            for name, of in runs.items():
                out = folder / f"{minutes}-{name.split(',')[0]}-{'font' if 'Sound' in name else 'plain'}-{round}"
                out.mkdir()
                figures[name].append(timed(of(out)))
                sizes[name] = max((path.stat().st_size, path) for path in out.rglob("*") if path.suffix in (".wav", ".flac"))
        ours = sizes["WAV, plain voice"][1]
        packed = folder / f"{minutes}.flac"
        figures["flac -5 of our WAV"] = [timed(["flac", "-5", "-s", "-f", "-o", str(packed), str(ours)])]
        sizes["flac -5 of our WAV"] = (packed.stat().st_size, packed)
        seconds = length(ours)
        print(f"{minutes}: a track of {seconds:.0f} s")
        for name, runs_of in figures.items():
            middle = statistics.median(spent for spent, _ in runs_of)
            peak = max(peak for _, peak in runs_of)
            print(f"  {name:20} {middle:6.2f} s  {seconds / middle:5.0f} × real time  {peak:5.0f} MB peak  {sizes[name][0] / 1e6:6.2f} MB")


def timed(command):
    """Seconds of the processor, and the peak of memory in MB, with what was read of a mapped file."""
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode in (0, 3), (command, child.returncode)
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


# What is heard


def heard(binary, folder):
    print("lesson                LUFS  true peak  line over band  bass over 350 Hz")
    for number, (name, (player, root)) in enumerate(HEARD.items()):
        lesson = with_track(folder, name, 'forms = ["backing", "line alone"]')
        files = made([binary, "write", str(lesson), "--instrument", player, "--key", root, "--format", "wav"], folder / name)
        files = [file for file in files if file.suffix == ".wav"]
        stem = sorted(files)[0].stem.split("-backing")[0].split("-line-alone")[0]
        whole, backing, line = (next(file for file in files if file.stem == stem + end) for end in ("", "-backing", "-line-alone"))
        lesson = with_track(folder, name, "levels = { line = 0, chords = 0, drums = 0, click = 0 }")
        bass = made([binary, "write", str(lesson), "--instrument", player, "--key", root, "--format", "wav"], folder / f"{name}-bass")
        bass = next(file for file in sorted(bass) if file.stem == stem)
        loud, peak = loudness(whole)
        over = loudness(line)[0] - loudness(backing)[0]
        print(f"{name:20} {loud:6.1f} {peak:8.1f} dB {over:11.1f} LU {above(bass, 350):15.1f} dB")
        if number in (0, 2, 5):
            picture(whole, folder / f"{name}.png")
            print(f"  {folder / name}.png")


def loudness(sound, sieve=""):
    """Integrated loudness and true peak, by ffmpeg, of a file or of samples, of what is left behind a sieve."""
    is_file = isinstance(sound, Path)
    given = ["-i", str(sound)] if is_file else ["-f", "f32le", "-ar", str(RATE), "-ac", "2", "-i", "-"]
    command = ["ffmpeg", "-hide_banner", "-nostats", *given, "-af", f"{sieve}ebur128=peak=true", "-f", "null", "-"]
    said = subprocess.run(command, input=None if is_file else sound.astype("<f4").tobytes(), capture_output=True).stderr.decode()
    last = said[said.rindex("Summary:") :]
    return float(re.search(r"I: +(-?[\d.]+) LUFS", last)[1]), float(re.search(r"Peak: +(-?[\d.inf]+) dBFS", last)[1])


def above(file, hertz):
    """How much of a track's energy lies above a frequency, in dB."""
    values = samples(file).mean(axis=1)
    power = numpy.abs(numpy.fft.rfft(values)) ** 2
    from_here = int(hertz * len(values) / RATE)
    return 10 * numpy.log10(power[from_here:].sum() / max(power.sum(), 1e-30))


# Each role beside the whole


def roles(binary, folder, voice):
    print(f"the voice: {Path(voice[-1]).name if voice else 'plain'}")
    print("LU to the whole       " + "".join(f"{role:>8}" for role in ROLES) + "  line over the rest  bass on a telephone  left over")
    for name, player, root in SHIPPED:
        beside(binary, folder, name, name, player, root, [], voice)
    for style in STYLES:
        lines = [f'style = "{style}"', 'click = "all beats"']
        beside(binary, folder, f"  {style}", "winter-quay", "alto saxophone", "F", lines, voice)


def beside(binary, folder, title, name, player, root, lines, voice):
    """Every role is had almost alone, the others at a hundredth, at a loudness of its own each time; so weighed that all add up to
    the whole, and the hundredths taken away, each is as it is in the mix. What is left over, in dB under the whole, says that they
    are. A role is measured while it sounds: the standard's gate leaves out where it doesn't."""

    def sound(*more):
        lesson = with_track(folder, name, *lines, *more)
        with tempfile.TemporaryDirectory(dir=folder) as out:
            files = made([binary, "write", str(lesson), "--instrument", player, "--key", root, "--format", "wav", *voice], Path(out))
            return samples(min((file for file in files if file.suffix == ".wav"), key=lambda file: file.stem)).ravel()

    whole = sound('forms = []')
    almost = {}
    for role in ROLES:
        others = ", ".join(f"{other} = 1" for other in ROLES if other != role)
        values = sound(f"levels = {{ {others} }}")
        # where a role has nothing to play, all others are as they were
        if numpy.corrcoef(values, whole)[0, 1] < 0.9999:
            almost[role] = values
    stems = numpy.array(list(almost.values()))
    weights = numpy.linalg.solve(stems @ stems.T, stems @ whole)
    rest = 10 * numpy.log10(numpy.mean((whole - weights @ stems) ** 2) / numpy.mean(whole**2))
    all_hundredths = 0.99 + 0.01 * len(stems)
    heard = {role: (all_hundredths * weight * stem - 0.01 * whole) / 0.99 for role, weight, stem in zip(almost, weights, stems)}
    at = lambda role, sieve="": loudness(heard[role], sieve)[0] - loudness(whole, sieve)[0]
    levels = {role: at(role) for role in heard}
    shown = "".join(f"{levels[role]:8.1f}" if role in levels else "       –" for role in ROLES)
    over = levels["line"] + loudness(whole)[0] - loudness(whole - heard["line"])[0]
    small = f"{at('bass', TELEPHONE):.1f}" if "bass" in levels else "–"
    buried = [role for role, level in levels.items() if level < -BURIED]
    print(f"{title:22}{shown} {over:16.1f} LU {small:>17} LU {rest:7.0f} dB" + (f"  buried: {', '.join(buried)}" if buried else ""), flush=True)


# What a telephone's loudspeaker sounds.
TELEPHONE = "highpass=f=350,highpass=f=350,"


# How notes are played

NOTES = """
title = "Joined and short"
instruments = ["{player}"]
tempo = 120
[keys]
only = ["C"]
[scale]
name = "major"
[figure]
meter = "4/4"
moves = "start, step up, step up, step up, step up, step down, step down, step down"
count = "1 2 3 4 | 1 2 3 4"
{marks}
[track]
style = "plain"
forms = ["line alone"]
[[exercise]]
kind = "figure"
"""


def played(binary, folder):
    print("player               dip at slurred joins  at plain ones  staccato / plain length  steps at edges / within")
    for player in ("flute", "b-flat-clarinet", "alto-saxophone", "b-flat-trumpet", "trombone"):
        lines = {}
        for way, marks in (("slurred", 'slur = "1-8"'), ("plain", ""), ("short", 'staccato = "1 2 3 4 5 6 7 8"')):
            lesson = folder / f"{player}-{way}.toml"
            lesson.write_text(NOTES.format(player=player, marks=marks), encoding="utf-8")
            files = made([binary, "write", str(lesson), "--format", "wav"], folder / f"{player}-{way}")
            lines[way] = samples(next(file for file in files if file.stem.endswith("line-alone"))).mean(axis=1)
        # 0.3 s of quiet, a bar of count-in, then a note every half second
        onsets = [0.3 + 2 + 0.5 * place for place in range(8)]
        dips = {way: max(dip(lines[way], at) for at in onsets[1:]) for way in ("slurred", "plain")}
        short = statistics.median(sounding(lines["short"], at) for at in onsets[:-1])
        plain = statistics.median(sounding(lines["plain"], at) for at in onsets[:-1])
        edge = max(edges(lines[way], onsets) for way in lines)
        print(f"{player:20} {dips['slurred']:17.1f} dB {dips['plain']:12.1f} dB {short:15.2f} / {plain:.2f} s {edge:18.2f}")


def level(values, at, long):
    part = values[int(at * RATE) : int((at + long) * RATE)]
    return 20 * numpy.log10(max(numpy.sqrt(numpy.mean(part**2)), 1e-9))


def dip(values, at):
    """How far the level falls around a join, in dB under the quieter of its notes."""
    around = [level(values, at + step / 1_000, 0.012) for step in range(-60, 61, 3)]
    return min(level(values, at - 0.2, 0.1), level(values, at + 0.15, 0.1)) - min(around)


def sounding(values, at):
    """How long a note sounds: until it is 20 dB under its loudest."""
    levels = [level(values, at + step / 200, 0.01) for step in range(100)]
    loudest = max(levels)
    return sum(one > loudest - 20 for one in levels) / 200


def edges(values, onsets):
    """The largest step from sample to sample around the notes' ends and beginnings, beside the largest within them."""
    steps = numpy.abs(numpy.diff(values))
    near = max(steps[int((at - 0.06) * RATE) : int((at + 0.01) * RATE)].max() for at in onsets)
    within = max(steps[int((at + 0.1) * RATE) : int((at + 0.2) * RATE)].max() for at in onsets)
    return near / within


# Pictures


def picture(file, to):
    """Ten seconds from the first bar on, up to 8 kHz, 70 dB deep."""
    values = samples(file).mean(axis=1)[2 * RATE : 12 * RATE]
    size, hop = 2_048, 441
    window = numpy.hanning(size)
    columns = [numpy.abs(numpy.fft.rfft(window * values[at : at + size]))[: 8_000 * size // RATE] for at in range(0, len(values) - size, hop)]
    shown = 20 * numpy.log10(numpy.array(columns).T[::-1] + 1e-6)
    scaled = numpy.clip((shown - shown.max() + 70) / 70, 0, 1)
    Image.fromarray((255 * (1 - scaled)).astype("uint8")).resize((1_400, 560)).save(to)


# Files


def with_track(folder, name, *lines):
    """A shipped lesson with more lines in its [track]."""
    text = (LESSONS / f"{name}.toml").read_text(encoding="utf-8")
    for line in lines:
        key = line.split(" ")[0]
        text = re.sub(rf"(?m)^{key} = .*\n", "", text) if "[track]" in text else text
        text = text.replace("[track]\n", f"[track]\n{line}\n") if "[track]\n" in text else text.replace("\n[", f"\n[track]\n{line}\n\n[", 1)
    lesson = folder / f"{name}.toml"
    lesson.write_text(text, encoding="utf-8")
    return lesson


def made(command, out):
    done = subprocess.run(command + ["--out", str(out)], capture_output=True, text=True)
    assert done.returncode in (0, 3), (command, done.stderr)
    return [path for path in out.rglob("*") if path.is_file()]


def one(files, ending):
    [found] = [file for file in files if file.name.endswith(ending)]
    return found


def samples(file):
    with wave.open(str(file)) as sound:
        values = numpy.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2")
        return values.reshape(-1, sound.getnchannels()) / 32_768


def length(file):
    with wave.open(str(file)) as sound:
        return sound.getnframes() / sound.getframerate()


if __name__ == "__main__":
    main()
