"""What was recognised in a picture: stars, pole, axis, and the way of the bolts?

The reduced picture with our own pen over it: some stars by name, where the pole is, where the
mount's axis goes through the picture with its ellipse, and the way from one to the other.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.axis.frame import pole_altitude_deg
from axletree.kit.frozen import dataclass
from axletree.pole.photographs.lens import places
from axletree.pole.photographs.run import Recognised, SolvedRun
from axletree.sky.arrays import Floats, Singles
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.directions import polar_axis
from axletree.stages.set_up.check import CheckAnswer
from axletree.stages.set_up.pictures_finding import PicturesFinding
from axletree.tell.check.pictures.negative import negative
from axletree.tell.shared.measure import width_of
from axletree.tell.shared.sheet import BRASS, INK, PAPER, Sheet

WIDTH = 900.0
_MARGIN = 40.0
_TOP = 96.0
_MOST_NAMES = 12
_MOST_TICKS = 60
_ELLIPSE_POINTS = 48
_LINE, _DOT, _MARK = 18.0, 6.0, 18.0  # of a line of words, a star, a mark; all sheet units


def picture_drawing(
    answer: CheckAnswer, finding: PicturesFinding, bolt_words: tuple[str, str]
) -> str:
    """SVG of the last picture that counts. `bolt_words`: of altitude and azimuth, '' for none."""
    one = last_that_counts(finding)
    grey = finding.shots[one.which].grey
    if finding.run.flipped:
        grey = grey[::-1]
    return recognised_drawing(answer, finding.run, one, grey, bolt_words)


def last_that_counts(finding: PicturesFinding) -> Recognised:
    """The last picture that was recognised and not left out."""
    kept = [k for k in range(len(finding.run.recognised)) if k not in finding.solved.left_out]
    return finding.run.recognised[kept[-1]]


@dataclass(frozen=True)
class PictureOverlay:
    """Our pen alone, as large as the picture, to be laid over it; and the notes that go below.

    `which`: of all that were given. `flipped`: the picture's rows are to be shown from below.
    """

    svg: str
    notes: tuple[str, ...]
    which: int
    name: str
    flipped: bool


def picture_overlay(
    answer: CheckAnswer, finding: PicturesFinding, bolt_words: tuple[str, str]
) -> PictureOverlay:
    """What `picture_drawing` draws over the picture, for who has the picture in hand."""
    one, run = last_that_counts(finding), finding.run
    width, height = run.size_px
    scale = (WIDTH - 2 * _MARGIN) / width
    marks = _marks(answer, run, one)
    pen = Sheet(WIDTH, 1.0, "")
    _pen(pen, _View(scale, (width * scale, height * scale)), one, marks)
    title = f"{len(one.stars)} recognised stars, the pole and the mount's axis in {one.name}"
    over = Sheet(width * scale, height * scale, title)
    over.place((-_MARGIN, -_TOP), pen)
    notes = tuple(_notes(answer, marks, run.size_px, bolt_words))
    return PictureOverlay(over.svg(), notes, one.which, one.name, run.flipped)


def _pen(sheet: Sheet, view: _View, one: Recognised, marks: _Marks) -> None:
    """Ticks, pole and axis, names, in this order so that names keep off the others."""
    written = _Written([view.at(place) for place in one.places_px])
    _ticks(sheet, view, one)
    _axis(sheet, view, marks, written)
    _names(sheet, view, one, written)


def recognised_drawing(
    answer: CheckAnswer, run: SolvedRun, one: Recognised, grey: Singles,
    bolt_words: tuple[str, str],
) -> str:  # fmt: skip
    """SVG of one picture (height, width) of a run."""
    width, height = run.size_px
    scale = (WIDTH - 2 * _MARGIN) / width
    tall = height * scale
    marks = _marks(answer, run, one)
    notes = _notes(answer, marks, run.size_px, bolt_words)
    sheet = Sheet(
        WIDTH, _TOP + tall + 46.0 + 24.0 * len(notes), f"What was recognised in {one.name}",
        f"The picture with {len(one.stars)} recognised stars, the pole and the mount's axis.",
    )  # fmt: skip
    sheet.text((_MARGIN, 46), sheet.title, size=26, weight=600)
    sheet.note(
        (_MARGIN, 74),
        "as the camera saw it, dark for light; ticks: recognised; brass: what can be moved",
        size=16,
    )
    sheet.raw(
        f'<image x="{_MARGIN:g}" y="{_TOP:g}" width="{width * scale:.2f}" height="{tall:.2f}" '
        f'preserveAspectRatio="none" href="{negative(grey)}"/>'
    )
    _pen(sheet, _View(scale, (width * scale, tall)), one, marks)
    sheet.box((_MARGIN, _TOP), width * scale, tall)
    for k, note in enumerate(notes):
        sheet.text_within(
            (_MARGIN, _TOP + tall + 36.0 + 24.0 * k), note, WIDTH - 2 * _MARGIN, size=16
        )
    return sheet.svg()


class _View:
    """From the picture's pixels to the sheet."""

    def __init__(self, scale: float, size: tuple[float, float]) -> None:
        self.scale, self.size = scale, size

    def at(self, place: Floats) -> tuple[float, float]:
        """A place on the sheet."""
        return (
            _MARGIN + (float(place[0]) + 0.5) * self.scale,
            _TOP + (float(place[1]) + 0.5) * self.scale,
        )

    def shows(self, at: tuple[float, float], edge: float = 0.0) -> bool:
        """Whether it lies in the picture."""
        x, y = at[0] - _MARGIN, at[1] - _TOP
        return edge <= x <= self.size[0] - edge and edge <= y <= self.size[1] - edge


class _Marks:
    """Pixels of the pole, the axis and its ellipse; nan where behind the camera."""

    def __init__(self, pole: Floats, axis: Floats, ellipse: Floats) -> None:
        self.pole, self.axis, self.ellipse = pole, axis, ellipse


def _marks(answer: CheckAnswer, run: SolvedRun, one: Recognised) -> _Marks:
    observer = answer.observer
    altitude = pole_altitude_deg(observer, answer.pole)

    def place(high: Floats, east: Floats) -> Floats:
        seen = polar_axis(observer.latitude_deg, high, east, pole_altitude_deg=altitude)
        return places(run.lens, seen @ one.attitude.T)

    estimate = answer.estimate
    zero = np.zeros(1)
    pole = place(zero, zero)[0]
    axis = place(np.array([estimate.high_arcmin]), np.array([estimate.east_arcmin]))[0]
    outline = estimate.outline(0.95, _ELLIPSE_POINTS)
    if outline is None:
        return _Marks(pole, axis, np.zeros((0, 2)))
    return _Marks(pole, axis, place(outline[:, 1], outline[:, 0]))


class _Written:
    """Where the stars are, and which places hold words or marks: left end, middle, width."""

    def __init__(self, stars: list[tuple[float, float]]) -> None:
        self._stars = [(x - _DOT, y, 2 * _DOT) for x, y in stars]
        self._taken: list[tuple[float, float, float]] = []

    def add(self, left: float, y: float, wide: float) -> None:
        """A place that is taken now."""
        self._taken.append((left, y, wide))

    def free(self, left: float, y: float, wide: float, *, stars: bool = False) -> bool:
        """Whether nothing stands there, no star either where `stars` are asked for."""
        return not any(
            abs(b - y) < _LINE and left < a + w and a < left + wide
            for a, b, w in [*self._taken, *(self._stars if stars else ())]
        )


def _ticks(sheet: Sheet, view: _View, one: Recognised) -> None:
    for place in one.places_px[:_MOST_TICKS]:
        x, y = view.at(place)
        if view.shows((x, y), 15.0):
            sheet.strokes([((x + 6, y), (x + 14, y)), ((x, y + 6), (x, y + 14))], width=1.1)


def _names(sheet: Sheet, view: _View, one: Recognised, written: _Written) -> None:
    named = 0
    for k in range(len(one.stars)):
        hip = 0 if one.stars.stars.from_gaia[k] else int(one.stars.stars.number[k])
        names = names_of(hip) if hip > 0 else ()
        if not names or named >= _MOST_NAMES:
            continue
        x, y = view.at(one.places_px[k])
        wide = width_of(names[0], 15) + 6
        for anchor, start, at in (("start", x + 17, x + 17), ("end", x - 11 - wide, x - 11)):
            inside = start > _MARGIN and start + wide < _MARGIN + view.size[0]
            if inside and written.free(start, y, wide):
                written.add(start, y, wide)
                named += 1
                sheet.text((at, y + 5), names[0], size=15, fill=INK, anchor=anchor)
                sheet.bring_forward()
                break


def _axis(sheet: Sheet, view: _View, marks: _Marks, written: _Written) -> None:
    pole, axis = view.at(marks.pole), view.at(marks.axis)
    for x, y in (pole, axis):
        written.add(x - _MARK, y, 2 * _MARK)
    if np.isfinite(marks.pole).all() and view.shows(pole):
        for way in ((1, 0), (0, 1)):
            for side in (-1, 1):
                a = (pole[0] + 6 * side * way[0], pole[1] + 6 * side * way[1])
                b = (pole[0] + 18 * side * way[0], pole[1] + 18 * side * way[1])
                sheet.line(a, b, stroke=INK, width=2.0)
        _label(sheet, view, (pole, axis), "pole", INK, written)
    if np.isfinite(marks.axis).all() and view.shows(axis):
        if len(marks.ellipse) and np.isfinite(marks.ellipse).all():
            sheet.path([view.at(p) for p in marks.ellipse], stroke=BRASS, width=1.5, closed=True)
        sheet.circle(axis, 10.0, stroke=PAPER, width=4.0)
        sheet.circle(axis, 10.0, stroke=BRASS, width=2.5)
        sheet.circle(axis, 2.0, stroke=BRASS, width=1.0, fill=BRASS)
        _label(sheet, view, (axis, pole), "axis", BRASS, written)
    if not (np.isfinite(marks.pole).all() and np.isfinite(marks.axis).all()):
        return
    if view.shows(pole) and view.shows(axis) and math.dist(pole, axis) > 44.0:
        away = math.dist(pole, axis)
        ux, uy = (pole[0] - axis[0]) / away, (pole[1] - axis[1]) / away
        a = (axis[0] + 13 * ux, axis[1] + 13 * uy)
        b = (pole[0] - 22 * ux, pole[1] - 22 * uy)
        sheet.line(a, b, stroke=PAPER, width=4.0)
        sheet.line(a, b, stroke=BRASS, width=2.0)
        tips = [(b[0] - 10 * ux - s * 5 * uy, b[1] - 10 * uy + s * 5 * ux) for s in (-1, 1)]
        sheet.path([b, *tips], stroke=BRASS, fill=BRASS, closed=True)


def _label(
    sheet: Sheet, view: _View, marks: tuple[tuple[float, float], tuple[float, float]], word: str,
    pen: str, written: _Written,
) -> None:  # fmt: skip
    """A word beside the first of two marks, best on the side away from the other, off the stars."""
    (x, here), (_, other) = marks
    sides = (here + 34, here - 24) if here >= other else (here - 24, here + 34)
    shown = [y for y in sides if view.shows((x, y), 6.0)] or [*sides]
    wide = width_of(word, 17) + 6
    left = x - wide / 2
    y = next((y for y in shown if written.free(left, y - 6, wide, stars=True)), shown[0])
    written.add(left, y - 6, wide)
    sheet.text((x, y), word, size=17, weight=600, anchor="middle", fill=pen)
    sheet.bring_forward()


def _notes(
    answer: CheckAnswer, marks: _Marks, size: tuple[int, int], bolt_words: tuple[str, str]
) -> list[str]:
    """What stands below the picture."""
    estimate = answer.estimate
    high = "above" if estimate.high_arcmin >= 0 else "below"
    east = "east" if estimate.east_arcmin >= 0 else "west"
    said = [
        f"Axis {abs(estimate.high_arcmin):.1f}′ {high} and {abs(estimate.east_arcmin):.1f}′ {east} "
        f"of the {answer.pole} pole; ellipse: it lies there with 95 %."
    ]
    said += [f"{words[0].upper()}{words[1:]}." for words in bolt_words if words]
    for name, place in (("pole", marks.pole), ("axis", marks.axis)):
        if not np.isfinite(place).all() or not (
            0 <= place[0] < size[0] and 0 <= place[1] < size[1]
        ):
            said.append(f"The {name} lies outside this picture.")
    return said
