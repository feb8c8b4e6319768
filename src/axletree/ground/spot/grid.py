"""Which place in the yard is the best for the tripod, and what is lost a step away?

Every place of a grid gets the skyline that the yard plan and the measured far skyline give it,
and is held against what the person wants: the pole star clear with a margin, the hours in which
each object stands clear, the views that were asked for.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.ground.skyline.skyline import Horizon
from axletree.ground.skyline.yard import YardPlan, skyline_tangents, within_outline
from axletree.ground.spot.directions import WantedDirections
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask, Singles
from axletree.sky.directions import wrap_360

_DEG = np.pi / 180.0
WINDOW_DEG = 0.5  # width of the directions in which the skyline is looked up
POLE_WINDOW_DEG = 0.1
MOST_PLACES = 60_000
CHUNK_PLACES = 1024
VIEW_WEIGHT = 0.5  # of the views asked for, beside 1 for the objects


@dataclass(frozen=True)
class SpotScores:
    """The scored grid; arrays are (ny, nx), nan where no tripod may stand.

    `score` is 0-100: the share of the hours that the objects could be seen under an open sky
    down to the lowest altitude, with the share of the wanted views at half that weight.
    `pole_clearance_deg` is the least height of the pole star above the skyline. `acceptable`
    marks places that may be used: allowed, and the pole clear by the margin where it is needed.
    `best` is (row, column), or None where no place is acceptable.
    """

    x_m: Floats
    y_m: Floats
    spacing_m: float
    allowed: Mask
    acceptable: Mask
    score: Floats
    pole_clearance_deg: Floats
    hours_clear: Singles
    open_hours: Floats
    view_share: Floats
    best: tuple[int, int] | None

    @property
    def best_place_m(self) -> tuple[float, float] | None:
        """x and y of the best place on the plan."""
        if self.best is None:
            return None
        return float(self.x_m[self.best[1]]), float(self.y_m[self.best[0]])


def grid_of(plan: YardPlan, spacing_m: float, elbow_m: float) -> tuple[Floats, Floats, Mask]:
    """Columns x, rows y, and where a tripod may stand: in the area, out of what is kept free,
    and `elbow_m` away from every wall, post, trunk and roof."""
    low, high = plan.area_m.min(axis=0), plan.area_m.max(axis=0)
    x = np.arange(low[0], high[0] + spacing_m * 0.5, spacing_m)
    y = np.arange(low[1], high[1] + spacing_m * 0.5, spacing_m)
    gx, gy = np.meshgrid(x, y)
    # A hair inwards, so that the area's own border belongs to it.
    middle = (low + high) / 2.0
    allowed = within_outline(
        middle[0] + (gx - middle[0]) * (1 - 1e-9), middle[1] + (gy - middle[1]) * (1 - 1e-9),
        plan.area_m,
    )  # fmt: skip
    for outline in plan.keep_out_m:
        allowed &= ~within_outline(gx, gy, outline)
    for shape in plan.shapes:
        if len(shape.outline_m):
            allowed &= ~within_outline(gx, gy, shape.outline_m)
        for px, py, _, radius in shape.posts_m:
            allowed &= np.hypot(gx - px, gy - py) > radius + elbow_m
        for a, b in shape.edges_m:
            allowed &= _distance(gx, gy, a, b) > elbow_m
    return x, y, allowed


def _distance(gx: Floats, gy: Floats, a: Floats, b: Floats) -> Floats:
    along = b[:2] - a[:2]
    length2 = max(float(along @ along), 1e-12)
    part = np.clip(((gx - a[0]) * along[0] + (gy - a[1]) * along[1]) / length2, 0.0, 1.0)
    return np.asarray(np.hypot(gx - a[0] - part * along[0], gy - a[1] - part * along[1]))


def score_places(
    plan: YardPlan,
    horizon: Horizon,
    wanted: WantedDirections,
    height_m: float,
    spacing_m: float = 0.25,
    elbow_m: float = 1.0,
) -> SpotScores:
    """Score every place of the yard's area.

    `horizon` is the far skyline that all places share; `height_m` the instrument's height above
    the ground. A yard too large for `MOST_PLACES` at this spacing gets a wider one. Refuses a
    spacing that is not positive.
    """
    if not spacing_m > 0.0:
        raise AxletreeError(f"spacing {spacing_m:g} m: write one above 0, such as 0.25")
    low, high = plan.area_m.min(axis=0), plan.area_m.max(axis=0)
    while (np.ptp([low[0], high[0]]) / spacing_m + 1) * (
        np.ptp([low[1], high[1]]) / spacing_m + 1
    ) > MOST_PLACES:
        spacing_m *= 2.0
    x, y, allowed = grid_of(plan, spacing_m, elbow_m)
    gx, gy = np.meshgrid(x, y)
    places = np.column_stack([gx[allowed], gy[allowed]])
    hours, views = _hours_and_views(plan, horizon, wanted, places, height_m)
    clearance = pole_clearance_deg(plan, horizon, wanted, places, height_m)
    open_hours = wanted.open_hours
    score = _score(hours, views, open_hours, bool(wanted.views))

    def on_grid(values: NDArray[Any]) -> Floats:
        out = np.full(allowed.shape, np.nan)
        out[allowed] = values
        return out

    hours_grid = np.full((len(hours), *allowed.shape), np.nan, dtype=np.float32)
    hours_grid[:, allowed] = hours
    score_grid, clearance_grid = on_grid(score), on_grid(clearance)
    acceptable = allowed.copy()
    if wanted.pole_needed:
        acceptable[allowed] &= clearance >= wanted.pole_margin_deg
    if open_hours.sum() > 0.0:
        acceptable[allowed] &= hours.sum(axis=0) > 0.0
    best = _best(x, y, acceptable, score_grid, clearance_grid, wanted)
    return SpotScores(
        x, y, spacing_m, allowed, acceptable, score_grid, clearance_grid, hours_grid,
        open_hours, on_grid(views), best,
    )  # fmt: skip


def _hours_and_views(
    plan: YardPlan, horizon: Horizon, wanted: WantedDirections, places: Floats, height_m: float
) -> tuple[Singles, Floats]:
    """Hours clear (objects, places), and the share of the wanted views that is free (places,)."""
    middles = np.arange(0.0, 360.0, WINDOW_DEG) + WINDOW_DEG / 2.0
    far = np.tan(horizon.highest_within(middles, WINDOW_DEG / 2.0) * _DEG).astype(np.float32)
    objects, samples = wanted.azimuth_deg.shape
    column = (wrap_360(wanted.azimuth_deg) / WINDOW_DEG).astype(np.intp).ravel() % len(middles)
    usable = wanted.altitude_deg >= wanted.lowest_altitude_deg
    height = np.where(usable, np.tan(np.minimum(wanted.altitude_deg, 89.99) * _DEG), -np.inf)
    tangent = height.astype(np.float32).ravel()[:, None]
    hours = np.zeros((objects, len(places)), dtype=np.float32)
    columns, limit = _view_windows(middles, wanted)
    views = np.ones(len(places))
    for start in range(0, len(places), CHUNK_PLACES):
        part = slice(start, start + CHUNK_PLACES)
        top = skyline_tangents(
            plan, places[part], height_m, middles, WINDOW_DEG / 2.0, dtype=np.float32
        )
        top = np.ascontiguousarray(np.maximum(top, far).T)
        if objects:
            clear = (tangent > top[column]).reshape(objects, samples, -1)
            hours[:, part] = clear.sum(axis=1, dtype=np.int32) * wanted.sample_h
        if len(columns):
            views[part] = (top[columns] <= limit[:, None]).mean(axis=0)
    return hours, views


def _view_windows(middles: Floats, wanted: WantedDirections) -> tuple[Indices, Singles]:
    """Columns that lie in a wanted view, and the tangent that the skyline may reach there."""
    columns: list[Indices] = []
    limits: list[Floats] = []
    for view in wanted.views:
        wide = (view.to_deg - view.from_deg) % 360.0 or 360.0
        inside = np.flatnonzero(wrap_360(middles - view.from_deg) < wide)
        columns.append(inside)
        limits.append(np.full(len(inside), np.tan(min(view.above_deg, 89.99) * _DEG)))
    if not columns:
        return np.zeros(0, dtype=np.intp), np.zeros(0, dtype=np.float32)
    return np.concatenate(columns), np.concatenate(limits).astype(np.float32)


def pole_clearance_deg(
    plan: YardPlan, horizon: Horizon, wanted: WantedDirections, places_m: ArrayLike, height_m: float
) -> Floats:
    """Least height of the pole star (or pole) above the skyline at each place, degrees (n,)."""
    azimuth = np.atleast_1d(wanted.pole_azimuth_deg)
    altitude = np.atleast_1d(wanted.pole_altitude_deg)
    half = POLE_WINDOW_DEG / 2.0
    top = np.arctan(skyline_tangents(plan, places_m, height_m, azimuth, half)) / _DEG
    top = np.maximum(top, horizon.highest_within(azimuth, half))
    return np.asarray((altitude - top).min(axis=1))


def _score(hours: Singles, views: Floats, open_hours: Floats, views_wanted: bool) -> Floats:
    total = float(open_hours.sum())
    share = hours.sum(axis=0, dtype=np.float64) / total if total > 0.0 else np.ones_like(views)
    if not views_wanted:
        return np.asarray(100.0 * share)
    if total <= 0.0:
        return 100.0 * views
    return np.asarray(100.0 * (share + VIEW_WEIGHT * views) / (1.0 + VIEW_WEIGHT))


def _best(
    x: Floats,
    y: Floats,
    acceptable: Mask,
    score: Floats,
    clearance: Floats,
    wanted: WantedDirections,
) -> tuple[int, int] | None:
    """The best acceptable cell; of cells as good as each other the one with the pole clearer by
    up to 5 degrees more, then the one nearest to the middle of what is acceptable."""
    if not acceptable.any():
        return None
    gx, gy = np.meshgrid(x, y)
    middle_x, middle_y = gx[acceptable].mean(), gy[acceptable].mean()
    far = np.hypot(gx - middle_x, gy - middle_y)
    room = np.clip(clearance - wanted.pole_margin_deg, 0.0, 5.0) if wanted.pole_needed else 0.0
    rank = np.where(acceptable, score + 0.02 * room - 1e-3 * far, -np.inf)
    row, column = np.unravel_index(int(np.nanargmax(rank)), rank.shape)
    return int(row), int(column)
