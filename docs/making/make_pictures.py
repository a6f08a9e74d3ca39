"""Make the pictures of the full screen in docs/made/pictures/screens, to be looked at.

    python docs/making/make_pictures.py

Walks the tour of docs/making/tour.py through the real face. Works offline: the pictures name nothing from outside.
"""

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from xml.sax.saxutils import escape

from rich.cells import cell_len
from rich.style import Style
from textual.strip import Strip
from tour import walked

DOCS = Path(__file__).resolve().parents[1]
PICTURES = DOCS / "made" / "pictures" / "screens"
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


def main() -> None:
    """Draw every screen of the tour that is to be drawn."""
    for old in PICTURES.glob("*.svg"):
        old.unlink()
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, drawing in walked().drawn.items():
        path = PICTURES / f"{name}.svg"
        path.write_text(picture(drawing, name), encoding="utf-8", newline="\n")
        sys.stdout.write(f"{path.relative_to(DOCS.parent)}\n")


if __name__ == "__main__":
    main()
