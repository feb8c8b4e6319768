"""Where to put the tripod: the yard from above, its best place, and the skyline there."""

from __future__ import annotations

import numpy as np

from axletree.ground.skyline.yard import ridge_ends
from axletree.ground.spot.grid import SpotScores
from axletree.kit.frozen import dataclass
from axletree.kit.parts.site import Yard
from axletree.sky.arrays import Floats
from axletree.stages.set_up.spot import SpotAnswer
from axletree.tell.shared.measure import width_of
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, Point, Sheet
from axletree.tell.shared.words import compass_point
from axletree.tell.spot.drawing_text import SpotDrawingWords, drawing_words, drawn_place_words
from axletree.tell.spot.skyline_drawing import draw_skyline, frame_for
from axletree.tell.spot.text import FEET_PER_M, pole_star_word, step_words

WIDTH = 1100.0
MAP_LEFT, MAP_TOP, MAP_SIZE = 74.0, 120.0, 520.0
SIDE_LEFT = 650.0
BANDS = 8  # tints between the worst and the best place
DARKEST = 0.42


@dataclass(frozen=True)
class _Scale:
    """From the plan's metres to the sheet."""

    west: float
    north: float
    per_m: float

    def at(self, x_m: float, y_m: float) -> Point:
        return MAP_LEFT + (x_m - self.west) * self.per_m, MAP_TOP + (self.north - y_m) * self.per_m


def spot_map(answer: SpotAnswer) -> str:
    """SVG: tint says how much a place loses against the best one, hatching where the pole is
    hidden; the best place in brass; below, the skyline seen from there."""
    yard, scores, from_there = answer.yard, answer.scores, answer.horizon
    words = drawing_words(answer)
    scale, low, high = _scale(yard)
    bottom = MAP_TOP + (high[1] - low[1]) * scale.per_m
    strip_top = max(bottom + 110.0, 604.0)  # below the list beside the map, too
    height = strip_top + (230.0 if from_there is not None else -20.0)
    sheet = Sheet(WIDTH, height, words.title, words.description)
    sheet.text_within((40, 44), words.title, WIDTH - 56, size=24, weight=600)
    _tints(sheet, scale, scores)
    _edges(sheet, scale, low, high, answer.units)
    edge = scale.at(high[0], low[1])
    sheet.text((edge[0], edge[1] + 40), words.ruler, size=12, anchor="end", fill=FAINT)
    _outlines(sheet, scale, yard)
    _obstacles(sheet, scale, yard)
    if scores.best_place_m is not None:
        _best(sheet, scale, scores.best_place_m)
    _north_arrow(sheet, answer.plan.turn_deg, words)
    _legend(sheet, scores, 300.0, words)
    _side(sheet, answer, words)
    if from_there is not None:
        sheet.text((40, strip_top - 16), words.from_there, size=17, weight=600)
        wanted = answer.wanted
        azimuth, altitude = list(wanted.pole_azimuth_deg), list(wanted.pole_altitude_deg)
        frame = frame_for(from_there, altitude, answer.north, 74.0, strip_top, WIDTH - 114.0, 160.0)
        draw_skyline(
            sheet,
            frame,
            from_there,
            azimuth,
            altitude,
            pole_star_word(wanted),
            wanted.lowest_altitude_deg,
        )
    return sheet.svg()


def _scale(yard: Yard) -> tuple[_Scale, tuple[float, float], tuple[float, float]]:
    """A scale that shows the area and every obstacle whose foot stands within ten metres of it."""
    area = np.array(yard.area_m, dtype=np.float64)
    points = [area]
    points += [np.array(w.points_m, dtype=np.float64) for w in yard.walls]
    points += [np.array(r.corners_m, dtype=np.float64) for r in yard.roofs]
    for tree in yard.trees:
        r = tree.crown_radius_m
        points.append(np.array([[tree.x_m - r, tree.y_m - r], [tree.x_m + r, tree.y_m + r]]))
    points += [np.array([[p.x_m, p.y_m]]) for p in yard.posts]
    everything = np.concatenate(points)
    margin = 10.0
    low = np.maximum(everything.min(axis=0), area.min(axis=0) - margin) - 0.8
    high = np.minimum(everything.max(axis=0), area.max(axis=0) + margin) + 0.8
    per_m = MAP_SIZE / float(max(high - low))
    scale = _Scale(float(low[0]), float(high[1]), per_m)
    return scale, (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def _band(score: float, best: float, worst: float) -> int:
    if best - worst < 1e-9:
        return 0
    return int(min(max((best - score) / (best - worst) * BANDS, 0.0), BANDS - 1e-9))


def _limits(scores: SpotScores) -> tuple[float, float]:
    """Best and worst score of the usable places, the worst not below half of the best."""
    usable = scores.score[scores.acceptable] if scores.acceptable.any() else scores.score
    usable = usable[~np.isnan(usable)]
    if not usable.size:
        return 0.0, 0.0
    best = float(usable.max())
    return best, max(float(usable.min()), 0.5 * best)


def _tints(sheet: Sheet, scale: _Scale, scores: SpotScores) -> None:
    """Runs of places of one tint as one box each."""
    best, worst = _limits(scores)
    half = scores.spacing_m / 2.0
    for row, y in enumerate(scores.y_m):
        kinds = [
            None if not scores.allowed[row, c]
            else -1 if not scores.acceptable[row, c]
            else _band(float(scores.score[row, c]), best, worst)
            for c in range(len(scores.x_m))
        ]  # fmt: skip
        start = 0
        for c in range(1, len(kinds) + 1):
            if c < len(kinds) and kinds[c] == kinds[start]:
                continue
            kind = kinds[start]
            if kind is not None:
                corner = scale.at(float(scores.x_m[start]) - half, float(y) + half)
                wide = (c - start) * scores.spacing_m * scale.per_m
                _tint(sheet, corner, wide, scores.spacing_m * scale.per_m, kind, row)
            start = c


def _tint(sheet: Sheet, corner: Point, wide: float, high: float, kind: int, row: int) -> None:
    if kind >= 0:
        if kind:
            sheet.box(corner, wide, high, stroke="none", fill=INK, opacity=DARKEST * kind / BANDS)
        return
    # Hidden pole: a rule on every second row.
    if row % 2 == 0:
        y = corner[1] + high / 2.0
        sheet.line((corner[0], y), (corner[0] + wide, y), width=0.8)


def _edges(
    sheet: Sheet, scale: _Scale, low: tuple[float, float], high: tuple[float, float], units: str
) -> None:
    """Rulers in metres (or feet) along the lower and the left edge, from the plan's origin."""
    left_top, right_bottom = scale.at(low[0], high[1]), scale.at(high[0], low[1])
    sheet.box(left_top, right_bottom[0] - left_top[0], right_bottom[1] - left_top[1], pen=1.2)
    unit = 1.0 / FEET_PER_M if units == "us" else 1.0
    span = max(high[0] - low[0], high[1] - low[1]) / unit
    step = next(s for s in (1, 2, 5, 10, 20, 50, 100, 200, 500, 5000) if span / s <= 12)
    for k in range(int(np.ceil(low[0] / unit)), int(high[0] / unit) + 1):
        x, y = scale.at(k * unit, low[1])
        sheet.line((x, y), (x, y + (9 if k % step == 0 else 4)), width=0.8)
        if k % step == 0:
            sheet.text((x, y + 24), str(k), size=12, anchor="middle")
    for k in range(int(np.ceil(low[1] / unit)), int(high[1] / unit) + 1):
        x, y = scale.at(low[0], k * unit)
        sheet.line((x, y), (x - (9 if k % step == 0 else 4), y), width=0.8)
        if k % step == 0:
            sheet.text((x - 13, y + 4), str(k), size=12, anchor="end")


def _outlines(sheet: Sheet, scale: _Scale, yard: Yard) -> None:
    sheet.path([scale.at(x, y) for x, y in yard.area_m], width=1.0, dash="8 4", closed=True)
    for outline in yard.keep_out_m:
        sheet.path([scale.at(x, y) for x, y in outline], width=0.8, dash="2 3", closed=True)


def _obstacles(sheet: Sheet, scale: _Scale, yard: Yard) -> None:
    def label(x: float, y: float, words: str) -> None:
        at = scale.at(x, y)
        half = width_of(words, 13) / 2 + 6
        x = min(max(at[0], MAP_LEFT + half), MAP_LEFT + MAP_SIZE - half)
        sheet.note((x, at[1]), words, size=13, anchor="middle")
        sheet.bring_forward()

    for roof in yard.roofs:
        corners = [scale.at(x, y) for x, y in roof.corners_m]
        sheet.path(corners, width=2.0, fill=PAPER, closed=True)
        if roof.ridge_height_m is not None:
            ends, _ = ridge_ends(np.array(roof.corners_m, dtype=np.float64))
            a, b = (scale.at(float(x), float(y)) for x, y in ends)
            sheet.line(a, b, width=1.0, stroke=FAINT)
        middle = np.mean(np.array(roof.corners_m), axis=0)
        across = float(np.ptp(np.array(roof.corners_m), axis=0)[0])
        label(float(middle[0]) + 0.22 * across, float(middle[1]), roof.name)
    for wall in yard.walls:
        sheet.path([scale.at(x, y) for x, y in wall.points_m], width=4.0)
        x, y = np.mean(np.array(wall.points_m), axis=0)
        at = scale.at(float(x), float(y))
        upright = abs(wall.points_m[0][0] - wall.points_m[-1][0]) < abs(
            wall.points_m[0][1] - wall.points_m[-1][1]
        )
        turn = -90.0 if upright else 0.0
        shift = (14.0, 0.0) if upright else (0.0, -8.0)
        sheet.note(
            (at[0] + shift[0], at[1] + shift[1]), wall.name, size=13, anchor="middle", turn_deg=turn
        )
        sheet.bring_forward()
    for tree in yard.trees:
        at = scale.at(tree.x_m, tree.y_m)
        sheet.circle(at, tree.crown_radius_m * scale.per_m, width=1.2, dash="5 3")
        sheet.circle(at, max(2.5, tree.trunk_radius_m * scale.per_m), fill=INK)
        label(tree.x_m, tree.y_m + 0.55 * tree.crown_radius_m, tree.name)
    for post in yard.posts:
        at = scale.at(post.x_m, post.y_m)
        sheet.circle(at, max(3.0, post.radius_m * scale.per_m), fill=INK)
        inside = at[0] + 8 + width_of(post.name, 13) < MAP_LEFT + MAP_SIZE
        sheet.note(
            (at[0] + (8 if inside else -8), at[1] + 4),
            post.name,
            size=13,
            anchor="start" if inside else "end",
        )
        sheet.bring_forward()


def _best(sheet: Sheet, scale: _Scale, place: tuple[float, float]) -> None:
    x, y = scale.at(*place)
    for turn in (90.0, 210.0, 330.0):  # three legs
        angle = np.radians(turn)
        sheet.line((x, y), (x + 15 * float(np.cos(angle)), y - 15 * float(np.sin(angle))),
                   stroke=BRASS, width=3.0)  # fmt: skip
    sheet.circle((x, y), 19.0, stroke=BRASS, width=2.5)
    sheet.circle((x, y), 4.0, stroke=BRASS, fill=BRASS)


def _north_arrow(sheet: Sheet, turn_deg: float, words: SpotDrawingWords) -> None:
    """True north on the plan, and the compass's where the plan was drawn by it."""
    x, y = MAP_LEFT + MAP_SIZE - 18.0, MAP_TOP - 26.0
    angle = np.radians(-turn_deg)
    right = np.array([np.cos(angle), np.sin(angle)])
    up = np.array([np.sin(angle), -np.cos(angle)])
    tip, tail = np.array([x, y]) + 20 * up, np.array([x, y]) - 20 * up
    neck = tip - 9 * up
    sheet.line(_point(tail), _point(neck), width=1.6)
    sheet.path([_point(neck + 5 * right), _point(tip), _point(neck - 5 * right)], fill=INK,
               closed=True)  # fmt: skip
    sheet.text((x - 16, y + 6), words.true_north, size=13, anchor="end")


def _point(at: Floats) -> Point:
    return float(at[0]), float(at[1])


def _legend(sheet: Sheet, scores: SpotScores, y: float, words: SpotDrawingWords) -> None:
    best, worst = _limits(scores)
    x, wide = SIDE_LEFT, 26.0
    sheet.text((x, y - 12), words.tint, size=13)
    for band in range(BANDS):
        sheet.box((x + band * wide, y), wide, 16, pen=0.8, fill=PAPER)
        if band:
            sheet.box((x + band * wide, y), wide, 16, stroke="none", fill=INK,
                      opacity=DARKEST * band / BANDS)  # fmt: skip
    sheet.text((x, y + 32), f"{best:.0f}", size=12)
    sheet.text((x + BANDS * wide, y + 32), f"{worst:.0f}", size=12, anchor="end")
    for k in range(4):
        sheet.line((x + 232, y + 1 + 5 * k), (x + 262, y + 1 + 5 * k), width=0.8)
    sheet.text((x + 270, y + 13), words.not_to_be_used, size=13)


def _side(sheet: Sheet, answer: SpotAnswer, words: SpotDrawingWords) -> None:
    x, y = SIDE_LEFT, 140.0
    large, small = drawn_place_words(answer)
    size, pen, below = (30, INK, 28.0) if answer.best is None else (28, BRASS, 62.0)
    for i, row in enumerate(large):
        sheet.text((x, y + 32 * i), row, size=size, weight=600, fill=pen)
    for i, row in enumerate(small):
        sheet.text_within((x, y + below + 19.5 * i), row, WIDTH - x - 16, size=15)
    if answer.best is None:
        return
    y = 372.0
    sheet.text((x, y), words.step_away, size=17, weight=600)
    for i, step in enumerate(answer.steps):
        at = y + 24 + 20 * i
        sheet.text((x, at), compass_point(step.azimuth_deg), size=14)
        cost = step_words(step, answer.wanted)
        sheet.text_within((x + 130, at), cost, WIDTH - x - 140, size=14)
