"""With which paper and pen is everything drawn?

A `Sheet` collects SVG elements. Colours are CSS variables with the day values as fall-back, so
that a page can change its light without a new drawing; print and plain viewers use the day.
Coordinates are SVG's: x to the right, y downwards, in the sheet's own units.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from html import escape

from axletree.tell.shared.measure import shortened, width_of

INK = "var(--ink, #1c1a17)"
FAINT = "var(--faint, #8d877b)"
PAPER = "var(--paper, #fbf8f1)"
BRASS = "var(--brass, #8a6d1f)"
WARN = "var(--warn, #9c2f1b)"
FAMILY = "Libertinus Serif"
# After it serifs that are about as wide, for who looks without the typeface.
FONT = f"'{FAMILY}', 'Times New Roman', 'Liberation Serif', 'Source Serif 4', serif"

Point = tuple[float, float]

# Laid under the letters, two units wide all around.
_CLEAR = f'paint-order="stroke" stroke="{PAPER}" stroke-width="4" stroke-linejoin="round"'
_LEAST_PART = 0.75  # of its size to which type is made smaller before words are cut


def number(value: float) -> str:
    """A coordinate with at most two decimals and no trailing zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Sheet:
    """A drawing being made; `svg()` gives its text. No type in it is smaller than `least`."""

    def __init__(
        self, width: float, height: float, title: str, description: str = "", *, least: float = 0.0
    ) -> None:
        self.width, self.height = width, height
        self.title, self.description = title, description
        self.least = least
        self._parts: list[str] = []
        self._front: list[str] = []

    def raw(self, element: str) -> None:
        """Add an element that was made elsewhere; its text must already be escaped."""
        self._parts.append(element)

    def line(self, a: Point, b: Point, *, stroke: str = INK, width: float = 1.0,
             dash: str = "", cap: str = "butt", opacity: float = 1.0) -> None:  # fmt: skip
        """A straight line."""
        self._parts.append(
            f'<line x1="{number(a[0])}" y1="{number(a[1])}" x2="{number(b[0])}" '
            f'y2="{number(b[1])}" {_pen(stroke, width, dash, opacity)} stroke-linecap="{cap}"/>'
        )

    def path(self, points: Iterable[Point], *, stroke: str = INK, width: float = 1.0,
             fill: str = "none", dash: str = "", closed: bool = False,
             opacity: float = 1.0) -> None:  # fmt: skip
        """A line through points, or a filled shape when closed."""
        text = "L".join(f"{number(x)} {number(y)}" for x, y in points)
        if text:
            self._parts.append(
                f'<path d="M{text}{"Z" if closed else ""}" fill="{fill}" '
                f'{_pen(stroke, width, dash, opacity)} stroke-linejoin="round"/>'
            )

    def strokes(self, segments: Iterable[tuple[Point, Point]], *, stroke: str = INK,
                width: float = 1.0, opacity: float = 1.0) -> None:  # fmt: skip
        """Many straight lines of one pen, as one element."""
        text = "".join(
            f"M{number(a[0])} {number(a[1])}L{number(b[0])} {number(b[1])}" for a, b in segments
        )
        if text:
            self._parts.append(f'<path d="{text}" fill="none" {_pen(stroke, width, "", opacity)}/>')

    def circle(self, centre: Point, radius: float, *, stroke: str = INK, width: float = 1.0,
               fill: str = "none", dash: str = "", opacity: float = 1.0) -> None:  # fmt: skip
        """A circle."""
        self._parts.append(
            f'<circle cx="{number(centre[0])}" cy="{number(centre[1])}" r="{number(radius)}" '
            f'fill="{fill}" {_pen(stroke, width, dash, opacity)}/>'
        )

    def box(self, corner: Point, width: float, height: float, *, stroke: str = INK,
            pen: float = 1.0, fill: str = "none", opacity: float = 1.0) -> None:  # fmt: skip
        """A rectangle from its upper left corner."""
        self._parts.append(
            f'<rect x="{number(corner[0])}" y="{number(corner[1])}" width="{number(width)}" '
            f'height="{number(height)}" fill="{fill}" {_pen(stroke, pen, "", opacity)}/>'
        )

    def text(self, at: Point, words: str, *, size: float = 14.0, anchor: str = "start",
             fill: str = INK, weight: int = 400, turn_deg: float = 0.0) -> None:  # fmt: skip
        """Words at a point; `anchor` is start, middle or end. Markup in words is escaped."""
        bold = f' font-weight="{weight}"' if weight != 400 else ""
        size = max(size, self.least)
        self._write(at, words, turn_deg, _type(size, anchor, fill) + bold)

    def text_within(self, at: Point, words: str, within: float, *, size: float = 14.0,
                    anchor: str = "start", fill: str = INK, weight: int = 400) -> None:  # fmt: skip
        """Words that take no more than the width `within`: type is made smaller, down to
        three quarters, then words are cut."""
        wide = width_of(words, size, weight)
        if wide > within:
            size *= max(within / wide, _LEAST_PART)
            if within < wide * _LEAST_PART:
                words = shortened(words, within, size, weight)
        self.text(at, words, size=size, anchor=anchor, fill=fill, weight=weight)

    def note(self, at: Point, words: str, *, size: float = 14.0, anchor: str = "start",
             fill: str = INK, turn_deg: float = 0.0) -> None:  # fmt: skip
        """The same in italics."""
        pen = _type(max(size, self.least), anchor, fill) + ' font-style="italic"'
        self._write(at, words, turn_deg, pen)

    def bring_forward(self) -> None:
        """Set the words written last before everything, with paper around their letters.

        For words that can't keep clear of strokes, drawn before or after them.
        """
        self._front.append(self._parts.pop().replace("<text ", f"<text {_CLEAR} ", 1))

    def _write(self, at: Point, words: str, turn_deg: float, pen: str) -> None:
        x, y = number(at[0]), number(at[1])
        turn = f' transform="rotate({number(turn_deg)} {x} {y})"' if turn_deg else ""
        self._parts.append(f'<text x="{x}" y="{y}" {pen}{turn}>{escape(words)}</text>')

    def lines(self, at: Point, rows: Sequence[str], *, size: float = 14.0, leading: float = 1.3,
              anchor: str = "start", fill: str = INK, weight: int = 400) -> None:  # fmt: skip
        """Several rows of words, downwards."""
        for i, row in enumerate(rows):
            self.text((at[0], at[1] + i * size * leading), row, size=size, anchor=anchor,
                      fill=fill, weight=weight)  # fmt: skip

    def inner(self) -> str:
        """The elements alone, to be put into another sheet with `raw`."""
        return "".join([*self._parts, *self._front])

    def place(self, at: Point, other: Sheet) -> None:
        """Another drawing's content with its upper left corner at a point, in the same measure."""
        x, y = number(at[0]), number(at[1])
        self._parts.append(f'<g transform="translate({x} {y})">{other.inner()}</g>')

    def svg(self) -> str:
        """The whole drawing."""
        description = f"<desc>{escape(self.description)}</desc>" if self.description else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(self.width)} '
            f'{number(self.height)}" width="{number(self.width)}" height="{number(self.height)}" '
            f'role="img" font-family="{FONT}" font-variant-numeric="tabular-nums lining-nums">'
            f"<title>{escape(self.title)}</title>{description}"
            f'<rect width="100%" height="100%" fill="{PAPER}"/>{self.inner()}</svg>'
        )


def plain_colours(svg: str) -> str:
    """The drawing with the day's colours written out, for viewers that don't know CSS variables."""
    return re.sub(r"var\(--[a-z]+, (#[0-9a-f]{6})\)", r"\1", svg)


def _pen(stroke: str, width: float, dash: str, opacity: float) -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    clear = f' opacity="{number(opacity)}"' if opacity != 1.0 else ""
    return f'stroke="{stroke}" stroke-width="{number(width)}"{dashes}{clear}'


def _type(size: float, anchor: str, fill: str) -> str:
    return f'font-size="{number(size)}" text-anchor="{anchor}" fill="{fill}"'
