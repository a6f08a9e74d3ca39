"""Make the pictures of the full screen in docs/pictures/screens, and the texts of all its screens in tests/tui/screens.

    python docs/make_pictures.py

Walks the tour of docs/tour.py through the real face. Works offline: the pictures name nothing from outside.
"""

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from xml.sax.saxutils import escape

import textual
from rich.cells import cell_len
from rich.style import Style
from textual.strip import Strip
from tour import Tour, walked

HERE = Path(__file__).parent
PICTURES = HERE / "pictures" / "screens"
TEXTS = HERE.parent / "tests" / "tui" / "screens"
ACROSS, DOWN, BASE, LETTER = 8.4, 18, 13.5, 14
"""Width and height of a character, its base line and its size."""
INK, PAPER = "#e8ebe6", "#12171b"
"""What the toolkit leaves to the terminal."""


def picture(strips: Sequence[Strip], name: str) -> str:
    """Draw a screen as an SVG that needs nothing from outside.

    Args:
        strips: its rows.
        name: what it shows, for those who cannot see it.
    """
    width, height = strips[0].cell_length, len(strips)
    marks = [mark for row, strip in enumerate(strips) for mark in _marks(strip, row)]
    title = escape(f"The full screen: {name.replace('-', ' ')}")
    size = f'viewBox="0 0 {width * ACROSS:g} {height * DOWN}" font-family="monospace" font-size="{LETTER}"'
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size}>',
            f"<title>{title}</title>",
            f'<rect width="100%" height="100%" fill="{PAPER}"/>',
            *marks,
            "</svg>",
            "",
        )
    )


def _marks(strip: Strip, row: int) -> Iterator[str]:
    column = 0
    for text, style, _ in strip:
        cells, x, y = cell_len(text), column * ACROSS, row * DOWN
        column += cells
        ink, paper = _colours(style)
        # A row overlaps the next one by a little: viewers round, and light would show between.
        yield f'<rect x="{x:g}" y="{y}" width="{cells * ACROSS:g}" height="{DOWN + 0.5}" fill="{paper}"/>'
        if text.strip():
            weight = ' font-weight="bold"' if style and style.bold else ""
            yield (
                f'<text x="{x:g}" y="{y + BASE}" textLength="{cells * ACROSS:g}" fill="{ink}"{weight}'
                f' xml:space="preserve">{escape(text)}</text>'
            )


def _colours(style: Style | None) -> tuple[str, str]:
    ink = style.color.get_truecolor().hex if style and style.color else INK
    paper = style.bgcolor.get_truecolor().hex if style and style.bgcolor else PAPER
    return (paper, ink) if style and style.reverse else (ink, paper)


def pages(tour: Tour) -> Iterator[tuple[Path, str]]:
    """Every file that comes of a tour, with its text."""
    for (width, height), screens in tour.seen.items():
        told = (f"===== {name}\n{text}" for name, text in screens.items())
        yield TEXTS / f"{width}x{height}.txt", f"textual {textual.__version__}\n{''.join(told)}"
    for name, drawing in tour.drawn.items():
        yield PICTURES / f"{name}.svg", picture(drawing, name)


if __name__ == "__main__":
    for old in PICTURES.glob("*.svg"):
        old.unlink()
    for path, text in pages(walked()):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        sys.stdout.write(f"{path.relative_to(HERE.parent)}\n")
