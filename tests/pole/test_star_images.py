"""Star images in simulated pictures: which spots are stars, and where do none show?

Light, noise and leaves are drawn here and by `sky_camera`, which shares no code with the solver.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

from axletree.pole.photographs.detection import StarImages, star_images

sys.path.insert(0, str(Path(__file__).parent))
import sky_camera as cam

WIDTH, HEIGHT = 900, 600


def scene_of(
    rng: np.random.Generator, x: np.ndarray, y: np.ndarray, light: np.ndarray, spot: float = 1.4
) -> np.ndarray:
    """A dark sky of 400 counts with its own noise, and round stars in it."""
    scene = np.full((HEIGHT, WIDTH), 400.0, np.float32)
    step = np.arange(-8, 9)
    for a, b, counts in zip(x, y, light, strict=True):
        column, row = round(float(a)) + step, round(float(b)) + step
        gx = np.exp(-0.5 * ((column - a) / spot) ** 2)
        gy = np.exp(-0.5 * ((row - b) / spot) ** 2)
        scene[np.ix_(row, column)] += counts * gy[:, None] * gx / (2.0 * np.pi * spot**2)
    noise = rng.standard_normal(scene.shape, dtype=np.float32)
    return np.asarray(scene + 20.0 * noise, dtype=np.float32)


def strewn(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Places on a loose grid, so that none touches another."""
    columns = int(np.sqrt(count * WIDTH / HEIGHT))
    rows = count // columns
    x, y = np.meshgrid((np.arange(columns) + 0.5) / columns, (np.arange(rows) + 0.5) / rows)
    away = rng.uniform(-3.0, 3.0, (2, x.size))
    return x.ravel() * (WIDTH - 40) + 20 + away[0], y.ravel() * (HEIGHT - 40) + 20 + away[1]


def test_leaves_are_no_stars_among_many_stars() -> None:
    """Dense stars are what hid the leaves: both stand close."""
    rng = np.random.default_rng(1)
    x, y = strewn(rng, 900)
    scene = scene_of(rng, x, y, 10.0 ** rng.uniform(3.2, 4.5, len(x)))
    clear = star_images(scene)
    cam.trees(scene, rng, 0.15, 400.0)
    scene += rng.normal(0.0, 12.0, scene.shape).astype(np.float32)
    found = star_images(scene)
    # The simulator's leaves begin a twelfth of the height above their mean edge, at most.
    edge = HEIGHT * (1.0 - 0.15)
    leaves = int(np.sum(found.take(slice(0, 48)).y_px > edge + 0.03 * HEIGHT))
    assert leaves <= 3
    assert len(found.streaks_px) <= 1
    # What stands well above them stays.
    high = edge - 0.2 * HEIGHT
    assert np.sum(found.y_px < high) > 0.9 * np.sum(clear.y_px < high) > 200


def images(x: np.ndarray, y: np.ndarray) -> StarImages:
    n = len(x)
    return StarImages(x, y, np.ones(n), np.full(n, 0.1), np.full(n, 5.0), np.ones(n), WIDTH, HEIGHT)


def test_where_a_cloud_hides_the_stars_none_is_asked_for() -> None:
    rng = np.random.default_rng(2)
    x, y = rng.uniform(0, WIDTH, 300), rng.uniform(0, HEIGHT, 300)
    behind = (x > 600) & (rng.random(300) < 0.95)
    shown = images(x[~behind], y[~behind])
    parts = shown.stars_show()
    assert parts.shape == (4, 6)
    assert parts[:, :4].all()
    assert not parts[:, 4:].any()
    asked = shown.in_parts(np.array([[100.0, 100.0], [850.0, 500.0]]), parts)
    assert asked.tolist() == [True, False]
    # Too few to tell: all is asked for.
    assert images(x[:40], y[:40]).stars_show().all()
