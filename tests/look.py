"""Pages to look at: draws sheets with Verovio, one PNG to a page. For people, not for the tests. Needs the cairo library
and a font with accidentals (DejaVu).

    python3 -m venv target/look-venv
    target/look-venv/bin/pip install verovio==6.4.1 cairosvg==2.9.1 fonttools==4.68.0 brotli==1.2.1
    target/look-venv/bin/python tests/look.py FOLDER SHEET.musicxml…
"""

import base64
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import verovio
from fontTools import merge, subset
from fontTools.ttLib import TTFont

# A4 in tenths of a millimetre.
PAGE = {"pageWidth": 2100, "pageHeight": 2970, "scale": 100, "breaks": "encoded", "footer": "none"}
WIDTH = 1240
FONTS = """<fontconfig>
<include>/etc/fonts/fonts.conf</include><dir>{folder}</dir><cachedir>{folder}</cachedir>
<alias binding="same"><family>Times</family><prefer><family>Liberation</family></prefer></alias>
</fontconfig>"""


def unpack_fonts(folder: Path) -> None:
    """Verovio's own music and text fonts, which its SVG names, where cairo finds them. The text fonts have no ♭ and ♯
    and cairo looks for none elsewhere, so they are lent those of another."""
    signs = accidentals(folder)
    for style in ("Leipzig.css", "Liberation.css"):
        css = (Path(verovio.__file__).parent / "data" / style).read_text()
        for number, packed in enumerate(re.findall(r"base64,([A-Za-z0-9+/=]+)", css)):
            woff = folder / f"{style}-{number}.woff2"
            woff.write_bytes(base64.b64decode(packed))
            font = TTFont(woff)
            font.flavor = None
            plain = woff.with_suffix(".ttf")
            font.save(plain)
            if style == "Liberation.css":
                merge.Merger().merge([str(plain), str(signs)]).save(plain)
    configuration = folder / "fonts.conf"
    configuration.write_text(FONTS.format(folder=folder))
    os.environ["FONTCONFIG_FILE"] = str(configuration)


def accidentals(folder: Path) -> Path:
    """The accidentals of a font of this machine that has them, alone."""
    found = subprocess.run(["fc-match", "--format=%{file}", "DejaVu Serif"], capture_output=True, text=True, check=True)
    font = TTFont(found.stdout)
    few = subset.Subsetter(subset.Options(layout_features=[], hinting=False))
    few.populate(text="♭♯♮")
    few.subset(font)
    path = folder / "accidentals.font"
    font.save(path)
    return path


def draw(sheet: Path, folder: Path) -> list[Path]:
    import cairosvg  # reads where the fonts are when it is loaded

    toolkit = verovio.toolkit()
    toolkit.setOptions(PAGE)
    if not toolkit.loadFile(str(sheet)):
        raise ValueError(f"Verovio can't load {sheet}")
    pages = []
    for number in range(1, toolkit.getPageCount() + 1):
        page = folder / f"{sheet.parent.name}-{sheet.stem}-{number}.png"
        svg = toolkit.renderToSVG(number).encode()
        cairosvg.svg2png(bytestring=svg, write_to=str(page), background_color="white", output_width=WIDTH)
        pages.append(page)
    return pages


def main() -> None:
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as unpacked:
        unpack_fonts(Path(unpacked))
        for sheet in sys.argv[2:]:
            for page in draw(Path(sheet), folder):
                print(page)


if __name__ == "__main__":
    main()
