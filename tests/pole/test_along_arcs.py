"""Light along the arcs of a long exposure: places, means and masks against scipy and by hand."""

from __future__ import annotations

import itertools
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy.ndimage import generic_filter, map_coordinates
from scipy.spatial.transform import Rotation

from axletree.pole.long_exposure import solve
from axletree.pole.long_exposure.along import (
    AlongArcs,
    _blurred,
    _lattice,
    _seen,
    _Stars,
    _without_dots,
)
from axletree.pole.long_exposure.arcs import DOT_PX, _arc, dots_and_arcs
from axletree.pole.photographs.lens import places, plain_lens

RNG = np.random.default_rng(4)


def test_a_lattice_holds_every_place_once() -> None:
    assert [*map(tuple, _lattice(2))] == [
        (x, y) for y, x in itertools.product((-2.0, -1.0, 0.0, 1.0, 2.0), repeat=2)
    ]


def test_light_along_an_arc_is_that_between_the_pixels() -> None:
    """Stars turned by scipy's rotations, light interpolated by scipy's first order."""
    lens = plain_lens(300, 200, 500.0)
    light = RNG.uniform(0.0, 100.0, (200, 300)).astype(np.float32)
    stars = np.array([[0.05, 0.02, 1.0], [-0.10, 0.04, 1.0], [0.12, -0.09, 1.0]])
    stars /= np.linalg.norm(stars, axis=1, keepdims=True)
    axis = np.array([0.03, -0.02, 1.0]) / np.linalg.norm([0.03, -0.02, 1.0])
    angles = np.array([-0.4, 0.2, 0.9])
    told = _seen(_Stars(stars, np.ones(3), lens, light), axis[None], angles)[0]
    for k, angle in enumerate(angles):
        x, y = places(lens, Rotation.from_rotvec(axis * angle).apply(stars)).T
        expected = map_coordinates(light.astype(np.float64), [y, x], order=1)
        np.testing.assert_allclose(told[:, k], expected, rtol=1e-4)


def test_off_the_picture_there_is_no_light() -> None:
    lens = plain_lens(300, 200, 500.0)
    outside = np.array([[0.31, 0.0, 1.0]]) / np.hypot(0.31, 1.0)
    light = np.ones((200, 300), np.float32)
    seen = _seen(_Stars(outside, np.ones(1), lens, light), np.array([[0.0, 0.0, 1.0]]),
                 np.array([0.0, 1.5]))  # fmt: skip
    assert np.isnan(seen[0, 0]).all()


def test_a_mean_of_squares_leaves_out_what_is_unknown() -> None:
    """Away from the edges, by scipy; where nothing is known there is no mean."""
    light = RNG.normal(10.0, 3.0, (40, 50)).astype(np.float32)
    light[RNG.uniform(size=light.shape) < 0.2] = np.nan
    light[10:18, 20:28] = np.nan
    with np.errstate(invalid="ignore"), pytest.warns(RuntimeWarning):
        expected = generic_filter(light.astype(np.float64), np.nanmean, size=5, mode="nearest")
    told = _blurred(light, 5)
    np.testing.assert_allclose(told[5:-5, 5:-5], expected[5:-5, 5:-5], rtol=1e-5)
    assert np.isnan(told[13, 24])


def test_a_dot_is_masked_alike_on_all_sides_and_to_the_edge() -> None:
    dark = _without_dots(np.zeros((60, 80), np.float32), np.array([[30.2, 24.8], [79.0, 59.0]]))
    y, x = np.mgrid[:60, :80]
    near = (np.hypot(x - 30, y - 25) <= DOT_PX) | (np.hypot(x - 79, y - 59) <= DOT_PX)
    assert (np.isnan(dark) == near).all()


def test_an_arc_is_what_lies_away_from_its_dot() -> None:
    """A streak along a row of 100 pixels, its dot at the left end."""
    width = 400
    row = 7 * width + np.arange(100, 200)
    found = _arc(row, width, np.array([100.0, 7.0]))
    assert found[:, 0].min() == 100.0 + DOT_PX + 1.0
    assert found[:, 0].max() == 199.0
    assert (found[:, 1] == 7.0).all()
    assert len(_arc(row[:60], width, np.array([100.0, 7.0]))) == 0  # fifty are too few


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_the_search_begins_at_the_pole_that_is_above(
    sign: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Bright arcs tell a line; of its two ends that on the pole's side is taken."""
    toward = np.array([0.0, 0.6, 0.8])
    bright = sign * np.array([0.1, 0.5, 0.86])
    begun: list[np.ndarray] = []

    def along(light: Any, dots: Any, lights: Any, lens: Any, start: Any, within: float) -> Any:
        begun.append(start)
        return AlongArcs(start, start[None], 3, 20, 30.0)  # too few: the next start is tried

    monkeypatch.setattr(solve, "_by_bright_arcs", lambda found, solved: bright)
    monkeypatch.setattr(solve, "axis_along_arcs", along)
    dots = SimpleNamespace(places=np.zeros((2, 2)), light=np.ones(2))
    found: Any = SimpleNamespace(dots=dots, smooth=np.zeros((3, 3)))
    solved: Any = SimpleNamespace(picture_stars=np.array([0, 1]), lens=None)
    solve._along(found, solved, toward)
    assert len(begun) == 2
    np.testing.assert_allclose(begun[0], sign * bright)
    np.testing.assert_allclose(begun[1], toward)


def test_each_dot_has_its_own_arc() -> None:
    """Three dots drawn with a streak each, of other lengths and directions, by numpy alone."""
    height, width = 300, 400
    y, x = np.mgrid[:height, :width].astype(np.float64)
    grey = RNG.normal(500.0, 5.0, (height, width))
    ends = {
        (60.0, 50.0): (160.0, 60.0),
        (300.0, 80.0): (290.0, 170.0),
        (120.0, 240.0): (220.0, 200.0),
    }
    for (x0, y0), (x1, y1) in ends.items():
        grey += 20_000.0 * np.exp(-((x - x0) ** 2 + (y - y0) ** 2) / (2.0 * 1.5**2))
        t = np.clip(((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0))
                    / ((x1 - x0) ** 2 + (y1 - y0) ** 2), 0.0, 1.0)  # fmt: skip
        off = np.hypot(x - x0 - t * (x1 - x0), y - y0 - t * (y1 - y0))
        grey += 700.0 * np.exp(-(off**2) / (2.0 * 1.5**2))
    found = dots_and_arcs(grey.astype(np.float32))
    seen = dict(zip(map(tuple, np.rint(found.dots.places)), found.arcs_px, strict=True))
    assert set(ends) <= set(seen)
    for dot, end in ends.items():
        arc = seen[dot]
        far = arc[np.argmax(np.hypot(*(arc - dot).T))]
        assert np.hypot(*(far - end)) < 8.0  # light is smoothed over some pixels
        assert np.hypot(*(arc - dot).T).min() > DOT_PX
