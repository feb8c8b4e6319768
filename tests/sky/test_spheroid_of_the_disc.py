"""The edge of a flattened planet, and the ground under the Sun's rays, from the spheroid itself."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.sky.moons.before_the_disc import Before, _ground, from_edge_km
from axletree.sky.positions.poles import POLAR_RADIUS_KM, RADIUS_KM

RNG = np.random.default_rng(5)


def axes(tilt: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """x, y and z axes of an eye at latitude `tilt`, the planet's pole along the third of ours."""
    z = np.array([np.cos(tilt), 0.0, np.sin(tilt)])
    y = np.array([-np.sin(tilt), 0.0, np.cos(tilt)])
    return np.cross(y, z), y, z


@pytest.mark.parametrize("planet", ["jupiter", "saturn"])
@pytest.mark.parametrize("tilt", [0.0, 0.05, -0.46, 1.2])
def test_the_edge_of_the_disc(planet: str, tilt: float) -> None:
    """Where the spheroid's surface is seen edge-on the distance is nothing; a little along the
    ellipse's own normal from it, that little (within 1 %)."""
    a, b = RADIUS_KM[planet], POLAR_RADIUS_KM[planet]
    x_axis, y_axis, _ = axes(tilt)
    # Normals across the line of sight, and the points of the surface that have them.
    turn = RNG.uniform(0.0, 2.0 * np.pi, 100)[:, np.newaxis]
    normal = np.cos(turn) * x_axis + np.sin(turn) * y_axis
    squares = np.array([a * a, a * a, b * b])
    point = normal * squares / np.sqrt(np.sum(normal**2 * squares, axis=1, keepdims=True))
    tilts = np.full(100, tilt)
    x, y = point @ x_axis, point @ y_axis
    assert np.abs(from_edge_km(planet, x, y, tilts)).max() < 1e-6 * a
    for step in (2500.0, -2500.0):
        x, y = (point + step * normal) @ x_axis, (point + step * normal) @ y_axis
        assert from_edge_km(planet, x, y, tilts) == pytest.approx(step, rel=0.01)


@pytest.mark.parametrize("planet", ["jupiter", "saturn"])
@pytest.mark.parametrize("tilt", [0.05, -0.46])
def test_the_ground_under_the_rays(planet: str, tilt: float) -> None:
    a, b = RADIUS_KM[planet], POLAR_RADIUS_KM[planet]
    x_axis, y_axis, z_axis = axes(tilt)
    x, y = RNG.uniform(-0.6, 0.6, (2, 50)) * a
    many = [np.tile(axis, (50, 1)) for axis in (x_axis, y_axis, z_axis)]
    line = Before(x, y, x, many[0], *many, np.full(50, tilt))
    place, normal = _ground(planet, x, y, line, np.arange(50))
    assert place @ x_axis == pytest.approx(x, abs=1e-6 * a)
    assert place @ y_axis == pytest.approx(y, abs=1e-6 * a)
    squares = np.array([a * a, a * a, b * b])
    assert np.sum(place**2 / squares, axis=1) == pytest.approx(1.0, abs=1e-9)
    upward = place / squares
    upward /= np.linalg.norm(upward, axis=1)[:, np.newaxis]
    assert np.abs(normal - upward).max() < 1e-9
    assert np.all(normal @ z_axis > 0.0)
