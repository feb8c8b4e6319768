"""How high do obstacles stand all round, and is the pole clear of them?"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from axletree.ground.skyline.skyline import Horizon, SkylineGap
from axletree.kit.frozen import dataclass
from axletree.sky.directions import wrap_180
from axletree.stages.set_up.spot import SpotAnswer
from axletree.tell.shared.measure import width_of
from axletree.tell.shared.sheet import BRASS, FAINT, INK, Point, Sheet
from axletree.tell.spot.drawing_text import skyline_drawing_words
from axletree.tell.spot.text import pole_star_word

SKY_TOP_DEG = 90.0


@dataclass(frozen=True)
class SkylineStrip:
    """Where on a sheet the strip stands: left, top, width, height, highest altitude shown."""

    left: float
    top: float
    width: float
    height: float
    top_deg: float
    middle_azimuth_deg: float

    def at(self, azimuth_deg: float, altitude_deg: float) -> Point:
        """A direction's place; azimuths within half a turn of the middle."""
        off = (azimuth_deg - self.middle_azimuth_deg + 180.0) % 360.0 - 180.0
        return self.x(off), self.y(altitude_deg)

    def x(self, off_deg: float) -> float:
        """Across the strip, from degrees to the right of the middle."""
        return self.left + (off_deg + 180.0) / 360.0 * self.width

    def y(self, altitude_deg: float) -> float:
        """Up the strip."""
        part = min(max(altitude_deg, 0.0), self.top_deg) / self.top_deg
        return self.top + self.height * (1.0 - part)


def skyline_view(
    horizon: Horizon,
    north: bool,
    pole_azimuth_deg: Sequence[float],
    pole_altitude_deg: Sequence[float],
    pole_name: str,
    title: str,
    lowest_altitude_deg: float | None = None,
) -> str:
    """SVG of the whole skyline as a strip, the elevated pole in its middle.

    `pole_azimuth_deg`, `pole_altitude_deg`: the pole star's track, one point at least.
    """
    sheet = Sheet(1040, 400, title, skyline_drawing_words().description)
    sheet.text((60, 40), title, size=22, weight=600)
    frame = SkylineStrip(
        60, 80, 940, 250, _top(horizon, pole_altitude_deg), 0.0 if north else 180.0
    )
    draw_skyline(
        sheet, frame, horizon, pole_azimuth_deg, pole_altitude_deg, pole_name, lowest_altitude_deg
    )
    return sheet.svg()


def spot_skyline(answer: SpotAnswer, title: str) -> str:
    """SVG of the skyline at the best place, or of the measured one where there is no such place."""
    wanted = answer.wanted
    return skyline_view(
        answer.horizon or answer.far,
        answer.north,
        list(wanted.pole_azimuth_deg),
        list(wanted.pole_altitude_deg),
        pole_star_word(wanted),
        title,
        wanted.lowest_altitude_deg,
    )


def _top(horizon: Horizon, pole_altitude_deg: Sequence[float]) -> float:
    most = max(float(np.max(horizon.altitude_deg)), *map(float, pole_altitude_deg), 30.0)
    return float(min(SKY_TOP_DEG, 10.0 * np.ceil((most + 6.0) / 10.0)))


def frame_for(
    horizon: Horizon, pole_altitude_deg: Sequence[float], north: bool, left: float, top: float,
    width: float, height: float,
) -> SkylineStrip:  # fmt: skip
    """A frame whose scale holds both the skyline and the pole."""
    middle = 0.0 if north else 180.0
    return SkylineStrip(left, top, width, height, _top(horizon, pole_altitude_deg), middle)


def draw_skyline(
    sheet: Sheet,
    frame: SkylineStrip,
    horizon: Horizon,
    pole_azimuth_deg: Sequence[float],
    pole_altitude_deg: Sequence[float],
    pole_name: str,
    lowest_altitude_deg: float | None = None,
) -> None:
    """Draw the strip into a frame of a sheet: skyline, scales, gaps, the pole star's place."""
    _ground(sheet, frame, horizon)
    _scales(sheet, frame)
    for gap in horizon.gaps:
        _gap(sheet, frame, horizon, gap)
    if lowest_altitude_deg is not None:
        y = frame.y(lowest_altitude_deg)
        sheet.line((frame.left, y), (frame.left + frame.width, y), stroke=FAINT, dash="2 4")
        words = skyline_drawing_words().lowest_used
        off = _lowest_place(frame, horizon, width_of(words, 11))
        sheet.text((frame.x(off), y - 4), words, size=12, anchor="middle", fill=FAINT)
    _pole(sheet, frame, pole_azimuth_deg, pole_altitude_deg, pole_name)


def _lowest_place(frame: SkylineStrip, horizon: Horizon, wide: float) -> float:
    """Where across the strip words have most room above the skyline, away from the pole."""
    half_deg = wide / 2 / (frame.width / 360.0)
    off = np.concatenate([np.arange(-170.0, -25.0, 5.0), np.arange(30.0, 171.0, 5.0)])
    around = off[:, None] + np.linspace(-half_deg, half_deg, 5)
    azimuth = around + frame.middle_azimuth_deg
    top = horizon.altitude_at(azimuth).max(axis=1)
    # Where nothing was measured, other words stand.
    top += np.where(horizon.known_at(azimuth).all(axis=1), 0.0, 90.0)
    return float(off[np.argmin(top)])


def _ground(sheet: Sheet, frame: SkylineStrip, horizon: Horizon) -> None:
    """The blocked part, as a tinted shape with an inked edge; untinted, dashed where unknown."""
    ends = [e for gap in horizon.gaps for e in (gap.from_deg, gap.to_deg)]
    off = np.unique(
        np.concatenate([
            np.linspace(-180.0, 180.0, 721),
            wrap_180(np.append(horizon.azimuth_deg, ends) - frame.middle_azimuth_deg),
        ])
    )  # fmt: skip
    azimuth = np.mod(off + frame.middle_azimuth_deg, 360.0)
    left, right = horizon.limit(azimuth, "left"), horizon.limit(azimuth, "right")
    known = horizon.known_at(0.5 * (off[1:] + off[:-1]) + frame.middle_azimuth_deg)
    turns = [0, *(np.flatnonzero(known[1:] != known[:-1]) + 1), len(known)]
    edges: list[tuple[bool, list[Point]]] = []
    for first, last in pairwise(turns):
        edge: list[Point] = []
        for k in range(first, last + 1):
            x = frame.x(float(off[k]))
            if k > first:
                edge.append((x, frame.y(float(left[k]))))
            if k < last and (not edge or abs(left[k] - right[k]) > 1e-9):
                edge.append((x, frame.y(float(right[k]))))
        edges.append((bool(known[first]), edge))
    for seen, edge in edges:
        base = [(edge[-1][0], frame.y(0.0)), (edge[0][0], frame.y(0.0))]
        if seen:
            sheet.path([*edge, *base], stroke="none", fill=INK, closed=True, opacity=0.16)
        sheet.path(edge, width=1.6, dash="" if seen else "3 4")
    for (_, before), (_, after) in pairwise(edges):
        sheet.line(before[-1], after[0], width=1.6)


def _scales(sheet: Sheet, frame: SkylineStrip) -> None:
    bottom = frame.y(0.0)
    sheet.line((frame.left, bottom), (frame.left + frame.width, bottom), width=1.4)
    for off in range(-180, 181, 5):
        deep = 10.0 if off % 30 == 0 else 6.0 if off % 10 == 0 else 3.0
        sheet.line((frame.x(off), bottom), (frame.x(off), bottom + deep), width=0.8)
    names = dict(zip((0, 90, 180, 270), skyline_drawing_words().points, strict=True))
    for off in range(-180, 181, 30):
        azimuth = int((off + frame.middle_azimuth_deg) % 360)
        word = names.get(azimuth, f"{azimuth}°")
        weight = 600 if azimuth in names else 400
        sheet.text((frame.x(off), bottom + 26), word, size=13, anchor="middle", weight=weight)
    for altitude in range(0, int(frame.top_deg) + 1, 10):
        y = frame.y(altitude)
        sheet.line((frame.left - 6, y), (frame.left, y), width=0.8)
        sheet.line((frame.left, y), (frame.left + frame.width, y), stroke=FAINT, width=0.5,
                   opacity=0.5)  # fmt: skip
        sheet.text((frame.left - 10, y + 4), f"{altitude}°", size=12, anchor="end")


def _gap(sheet: Sheet, frame: SkylineStrip, horizon: Horizon, gap: SkylineGap) -> None:
    """Strokes along the edge, and words, where nothing was measured."""
    steps = max(2, int(gap.width_deg / 5.0))
    for k in range(1, steps):
        azimuth = gap.from_deg + gap.width_deg * k / steps
        x, y = frame.at(azimuth, float(horizon.altitude_at(azimuth)))
        sheet.line((x, y - 3), (x, y - 12), stroke=INK, width=0.8)
    around = gap.middle_deg + np.linspace(-15.0, 15.0, 31)
    x, y = frame.at(gap.middle_deg, float(np.max(horizon.altitude_at(around))))
    # Behind the observer, in the middle of many a gap, the strip ends.
    x = min(max(x, frame.left + 40.0), frame.left + frame.width - 40.0)
    words = skyline_drawing_words().not_measured
    sheet.note((x, y - 16), words, size=12, anchor="middle")
    sheet.bring_forward()


def _pole(
    sheet: Sheet,
    frame: SkylineStrip,
    azimuth: Sequence[float],
    altitude: Sequence[float],
    name: str,
) -> None:
    points = [frame.at(float(a), float(h)) for a, h in zip(azimuth, altitude, strict=True)]
    sheet.path(points, stroke=BRASS, width=2.5)
    x = sum(p[0] for p in points) / len(points)
    y = sum(p[1] for p in points) / len(points)
    for arm in (-1, 1):
        sheet.line((x + 8 * arm, y), (x + 20 * arm, y), stroke=BRASS, width=2.0)
        sheet.line((x, y + 8 * arm), (x, y + 20 * arm), stroke=BRASS, width=2.0)
    sheet.circle((x, y), 8.0, stroke=BRASS, width=2.0, fill="none")
    sheet.text((x + 26, y + 5), name, size=15, weight=600, fill=BRASS)
    sheet.bring_forward()
