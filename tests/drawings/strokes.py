"""Which strokes of a drawing run through its words?

Reads what a `Sheet` writes: straight lines, paths of straight pieces, circles and rectangles, moved
or turned. A stroke counts where nothing of the paper's colour was laid over it before the words.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from axletree.tell.shared.sheet import PAPER, plain_colours

Points = npt.NDArray[np.float64]
Corner = tuple[float, float]
_PAPER = plain_colours(PAPER)
_COVERS = 0.7  # opacity from which paper laid over a stroke lets words be read
_STEP = 1.0  # units of the sheet from one place to the next where a stroke is looked at


@dataclass(frozen=True)
class Drawn:
    """One element as it is inked: its place among all, points in the sheet's units."""

    at: int
    kind: str  # "text", "clear text" (paper around its letters), "stroke" or "cover"
    points: Points
    width: float = 0.0


def drawn(svg: str) -> list[Drawn]:
    """The elements of a drawing in the order in which they are inked; texts without points."""
    # The drawing is one of ours, made a moment ago.
    return list(_walk(ET.fromstring(plain_colours(svg)), np.eye(3), [0]))


def _walk(element: ET.Element, frame: Points, count: list[int]) -> Iterator[Drawn]:
    frame = frame @ _moved(element.get("transform", ""))
    tag = element.tag.rpartition("}")[2]
    count[0] += 1
    if tag == "text" and "".join(element.itertext()).strip():
        clear = element.get("paint-order") == "stroke" and element.get("stroke") == _PAPER
        yield Drawn(count[0], "clear text" if clear else "text", np.empty((0, 2)))
    for points in _outlines(tag, element):
        placed = points @ frame[:2, :2].T + frame[:2, 2]
        clear = float(element.get("opacity", 1.0))
        if element.get("fill") == _PAPER and clear >= _COVERS:
            yield Drawn(count[0], "cover", placed)
        width = float(element.get("stroke-width", 1.0))
        if element.get("stroke", "none") not in ("none", _PAPER) and width * clear > 0:
            yield Drawn(count[0], "stroke", placed, width)
    for inner in element:
        yield from _walk(inner, frame, count)


def _moved(transform: str) -> Points:
    found = np.eye(3)
    for name, given in re.findall(r"(\w+)\(([^)]*)\)", transform):
        v = [float(n) for n in re.split(r"[\s,]+", given.strip())]
        if name == "translate":
            step = np.array([[1, 0, v[0]], [0, 1, v[1] if len(v) > 1 else 0], [0, 0, 1.0]])
        elif name == "rotate":
            a, (x, y) = math.radians(v[0]), v[1:] or (0.0, 0.0)
            c, s = math.cos(a), math.sin(a)
            step = np.array([[c, -s, x - c * x + s * y], [s, c, y - s * x - c * y], [0, 0, 1]])
        else:
            assert name == "scale", transform
            step = np.diag([v[0], v[-1], 1.0])
        found = found @ step
    return found


def _outlines(tag: str, element: ET.Element) -> Iterator[Points]:
    def get(*names: str) -> list[float]:
        return [float(element.get(name, 0)) for name in names]

    if tag == "line":
        yield np.array(get("x1", "y1", "x2", "y2")).reshape(2, 2)
    elif tag == "circle":
        (x, y, r), turn = get("cx", "cy", "r"), np.linspace(0, 2 * np.pi, 73)
        yield np.stack([x + r * np.cos(turn), y + r * np.sin(turn)], axis=1)
    elif tag == "rect" and not element.get("width", "").endswith("%"):
        x, y, w, h = get("x", "y", "width", "height")
        yield np.array([[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]])
    elif tag == "path":
        for part in element.get("d", "").split("M")[1:]:
            closed = part.strip().endswith("Z")
            numbers = re.sub(r"[LZ]", " ", part)
            assert not re.search(r"[A-Za-df-z]", numbers), numbers
            points = np.array(numbers.split(), dtype=float).reshape(-1, 2)
            yield np.vstack([points, points[:1]]) if closed else points


def crossed(elements: Sequence[Drawn], boxes: Sequence[list[Corner]], into: float) -> list[float]:
    """For each box of words, in the texts' order, how many units of strokes lie within it.

    `into` is how far ink may enter a box from its rim before it counts.
    """
    covers = [e for e in elements if e.kind == "cover"]
    texts = [e for e in elements if e.kind.endswith("text")]
    assert len(texts) == len(boxes)
    pieces = [
        np.hstack([e.points[:-1], e.points[1:],
                   np.full((len(e.points) - 1, 2), (e.width / 2, e.at))])
        for e in elements if e.kind == "stroke"
    ]  # fmt: skip
    strokes = np.vstack([np.empty((0, 6)), *pieces])
    low = np.minimum(strokes[:, :2], strokes[:, 2:4]) - strokes[:, 4:5]
    high = np.maximum(strokes[:, :2], strokes[:, 2:4]) + strokes[:, 4:5]
    found = []
    for text, box in zip(texts, boxes, strict=True):
        left_top, right_low = np.min(box, axis=0), np.max(box, axis=0)
        near = ((high > left_top) & (low < right_low)).all(axis=1)
        if text.kind == "clear text":
            near &= strokes[:, 5] > text.at
        total = 0.0
        for x0, y0, x1, y1, half, at in strokes[near]:
            places = _within(np.array([[x0, y0], [x1, y1]]), box, into - half)
            for cover in covers:
                if at < cover.at < text.at and len(places):
                    places = places[~inside(places, cover.points)]
            total += len(places) * _STEP
        found.append(total)
    return found


def _within(line: Points, box: list[Corner], into: float) -> Points:
    """Places along a straight line that lie deeper than `into` in a box, turned or not."""
    corner, right, low = (np.array(box[k]) for k in (0, 1, 3))
    sides = np.array([max(math.dist(corner, p), 1e-9) for p in (right, low)])
    axes = np.stack([right - corner, low - corner]) / sides[:, None]
    count = max(int(math.dist(*line) / _STEP), 1) + 1
    places = line[0] + np.linspace(0, 1, count)[:, None] * (line[1] - line[0])
    local = (places - corner) @ axes.T
    kept: Points = places[((local >= into) & (local <= sides - into)).all(axis=1)]
    return kept


def inside(places: Points, outline: Points) -> npt.NDArray[np.bool_]:
    """Which places lie within a closed outline (counting crossings to the right)."""
    x, y = places[:, :1], places[:, 1:]
    (ax, ay), (bx, by) = outline[:-1].T, outline[1:].T
    with np.errstate(divide="ignore", invalid="ignore"):
        hit = ((ay > y) != (by > y)) & (x < (bx - ax) * (y - ay) / (by - ay) + ax)
    odd: npt.NDArray[np.bool_] = hit.sum(axis=1) % 2 == 1
    return odd
