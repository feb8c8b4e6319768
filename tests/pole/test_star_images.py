"""Star images in simulated pictures: which spots are stars, and how well is each one's place known?

Light, noise and leaves are drawn here and by `sky_camera`, which shares no code with the solver.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from axletree.pole.photographs.detection import StarImages, star_images
from axletree.pole.photographs.lens import places, plain_lens, rays
from axletree.pole.photographs.refine import Pairs, refine

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


def test_a_star_s_place_is_known_as_well_as_it_scatters() -> None:
    """400 stars of each light at known places: misfits against what is told of them."""
    rng = np.random.default_rng(3)
    x, y = strewn(rng, 400)
    for counts in (1500.0, 4000.0, 12000.0):
        found = star_images(scene_of(rng, x, y, np.full(len(x), counts)))
        apart = np.hypot(found.x_px[:, None] - x, found.y_px[:, None] - y)
        near = np.argmin(apart, axis=1)
        good = apart[np.arange(len(near)), near] < 2.0
        off = np.stack([found.x_px - x[near], found.y_px - y[near]], axis=-1)[good]
        assert good.sum() > 200
        scatter = np.sqrt(np.mean(np.minimum(off**2, 1.0)))
        told = np.sqrt(np.mean(found.sigma_px[good] ** 2))
        # The floor stands for what round stars on plain pixels don't have; and the window follows
        # the spot's measured shape, which no formula does: a fifth.
        assert told == pytest.approx(np.hypot(scatter, 0.03), rel=0.2)


def test_a_star_with_another_one_beside_it_is_known_less_well() -> None:
    rng = np.random.default_rng(4)
    x, y = strewn(rng, 100)
    alone = star_images(scene_of(rng, x, y, np.full(len(x), 20000.0)))
    both = scene_of(rng, np.append(x, x[44] + 3.0), np.append(y, y[44]),
                    np.append(np.full(len(x), 20000.0), 5000.0))  # fmt: skip
    found = star_images(both)
    k = int(np.argmin(np.hypot(found.x_px - x[44], found.y_px - y[44])))
    # A fifth of the light three pixels away draws the middle by 0.6, of which the window sees half.
    assert found.x_px[k] - x[44] > 0.15
    assert found.sigma_px[k] > 3.0 * np.median(alone.sigma_px)


@pytest.mark.parametrize("shared_px", [0.0, 0.25])
def test_attitudes_scatter_as_told_where_a_star_is_wrong_in_all_pictures(shared_px: float) -> None:
    """Throwing errors, some of them a star's own in all three pictures, on a lens that is known."""
    rng = np.random.default_rng(5)
    lens = plain_lens(WIDTH, HEIGHT, 1800.0)
    middle = np.array([WIDTH / 2.0, HEIGHT / 2.0])
    turned = Rotation.from_rotvec([[0.0, 0.0, a] for a in (-0.1, 0.0, 0.1)]).as_matrix()
    pulls = []
    for _ in range(60):
        seen = rays(lens, middle + rng.uniform(-280, 280, (50, 2)))
        sigma = rng.choice([0.1, 0.2], 50)
        own = rng.normal(0.0, shared_px, (50, 2))
        pairs = [
            Pairs(places(lens, seen @ t.T) + own @ t[:2, :2].T + sigma[:, None]
                  * rng.normal(0.0, 1.0, (50, 2)), sigma, seen, np.arange(50))
            for t in turned
        ]  # fmt: skip
        found = refine(pairs, turned, lens, (WIDTH, HEIGHT), lens_known=True)
        off = [Rotation.from_matrix(a @ t.T).as_rotvec()
               for a, t in zip(found.attitudes, turned, strict=True)]  # fmt: skip
        between = np.concatenate([-np.eye(3), np.zeros((3, 3)), np.eye(3)], axis=1)
        # In directions of the sky, where what the pictures share is the same.
        local = np.zeros((9, 9))
        for k, t in enumerate(turned):
            local[3 * k : 3 * k + 3, 3 * k : 3 * k + 3] = t.T
        apart = between @ local @ np.concatenate(off)
        cov = between @ local @ found.covariance @ local.T @ between.T
        pulls.append(apart @ np.linalg.solve(cov, apart))
    # The mean of 60 chi-squares of three: 3 with a deviation of 0.32.
    assert np.mean(pulls) == pytest.approx(3.0, abs=0.9)
