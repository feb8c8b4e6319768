"""Leaves at the lower edge of a photograph are no stars, wherever the picture's parts end."""

from __future__ import annotations

import numpy as np
import pytest
import sky_camera as cam

from axletree.pole.photographs.detection import star_images


@pytest.mark.parametrize("height", [1000, 1100, 1200])
def test_leaves_along_the_edge_are_no_stars(height: int) -> None:
    width, stars, part = 1800, 150, 0.12
    rng = np.random.default_rng(4)
    scene = np.full((height, width), 200.0, dtype=np.float32)
    places = rng.uniform(8.0, (height * 0.7, width - 9.0), (stars, 2)).astype(int)
    for y, x in places:  # images of a pixel and a half
        y0, x0 = np.mgrid[y - 5 : y + 6, x - 5 : x + 6]
        scene[y - 5 : y + 6, x - 5 : x + 6] += 900.0 * np.exp(
            -((y0 - y) ** 2 + (x0 - x) ** 2) / (2.0 * 1.5**2)
        )
    cam.trees(scene, rng, part, 200.0)
    scene += rng.standard_normal(scene.shape, dtype=np.float32) * np.sqrt(np.maximum(scene, 0.0))
    found = star_images(scene / 16.0)
    among_leaves = int((found.y_px > height * (1.0 - part)).sum())
    assert len(found) - among_leaves > 0.9 * stars
    assert among_leaves < 10
