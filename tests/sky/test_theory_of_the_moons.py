"""The four moons' elements turned into places the classical way, angle by angle."""

from __future__ import annotations

import json

import numpy as np
import pytest

from axletree.data import data_path
from axletree.sky.moons.four_of_jupiter import MOONS, jovicentric_km
from axletree.sky.positions.poles import north_pole

AU_KM = 149597870.7
DAYS = np.linspace(7400.0, 18000.0, 40)


def turned(angle: np.ndarray, axis: int) -> np.ndarray:
    c, s, one, zero = np.cos(angle), np.sin(angle), np.ones_like(angle), np.zeros_like(angle)
    rows = {0: [[one, zero, zero], [zero, c, -s], [zero, s, c]],
            2: [[c, -s, zero], [s, c, zero], [zero, zero, one]]}  # fmt: skip
    return np.moveaxis(np.array(rows[axis]), -1, 0)


@pytest.mark.parametrize("name", MOONS)
def test_places_by_kepler_angle_by_angle(name: str) -> None:
    document = json.loads(data_path("jupiter_moons.json").read_text(encoding="utf-8"))
    moon = document["moons"][name]
    t = DAYS + 2451545.0 - document["epoch_tt_jd"]

    def total(key: str) -> np.ndarray:
        return sum(A * np.exp(1j * (phase + rate * t)) for A, phase, rate in moon[key])

    a = total("a_au").real * AU_KM
    L0, rate = moon["longitude_rad"]
    L = L0 + rate * t + total("longitude_terms_rad").imag
    z, zeta = total("eccentricity"), total("half_inclination")
    e, perijove, tilt, node = abs(z), np.angle(z), 2 * np.arcsin(abs(zeta)), np.angle(zeta)
    M = L - perijove
    E = M.copy()
    for _ in range(50):
        E = M + e * np.sin(E)
    x, y = a * (np.cos(E) - e), a * np.sqrt(1 - e**2) * np.sin(E)
    flat = np.stack([x, y, np.zeros_like(x)], axis=-1)
    matrix = np.array(document["to_icrs"]) @ turned(node, 2) @ turned(tilt, 0)
    theirs = np.einsum("nij,nj->ni", matrix @ turned(perijove - node, 2), flat)
    number = np.full(len(t), MOONS.index(name))
    place, speed = jovicentric_km(number, DAYS)
    assert np.abs(place - theirs).max() < 0.01
    # The square of the speed, by the energy of the orbit.
    gm = moon["gm_au3_per_day2"] * AU_KM**3 / 86400.0**2
    r = np.linalg.norm(place, axis=1)
    assert np.linalg.norm(speed, axis=1) == pytest.approx(np.sqrt(gm * (2 / r - 1 / a)), rel=1e-9)
    # And its direction: a second later the moon stands there (drifts of the elements apart).
    later, _ = jovicentric_km(number, DAYS + 1.0 / 86400.0)
    assert np.abs(later - place - speed).max() < 0.02
    # G. Galilei's moons keep to the planet's equator: within half a degree (handbooks).
    normal = np.cross(place, speed)
    normal /= np.linalg.norm(normal, axis=1)[:, np.newaxis]
    off = np.degrees(np.arccos(np.sum(normal * north_pole("jupiter", DAYS), axis=1)))
    assert off.max() < 0.8
