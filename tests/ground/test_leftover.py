"""What a leftover tilt does: against rotation matrices of another library."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from axletree.ground.level.leftover import leftover
from axletree.ground.level.legs import Tilt


def base_of(tilt: Tilt, facing: float) -> Rotation:
    """Attitude of the top: azimuth of the high side is the pole's plus the tilt's direction."""
    high = np.radians(facing + tilt.high_side_deg)
    axis = np.cross([np.sin(high), np.cos(high), 0.0], [0.0, 0.0, 1.0])
    return Rotation.from_rotvec(axis * np.radians(tilt.tilt_deg))


def axis_of_head(base: Rotation, head_azimuth: float, scale: float) -> np.ndarray:
    """The polar axis of a head turned to an azimuth and raised to a scale reading, on a base."""
    a, h = np.radians(head_azimuth), np.radians(scale)
    own = np.array([np.cos(h) * np.sin(a), np.cos(h) * np.cos(a), np.sin(h)])
    return base.apply(own)


def high_east(axis: np.ndarray, latitude: float) -> tuple[float, float]:
    """Arcminutes above and east of the pole, small angles, from azimuth and altitude."""
    facing = 0.0 if latitude >= 0 else 180.0
    altitude = np.degrees(np.arcsin(axis[2]))
    azimuth = np.degrees(np.arctan2(axis[0], axis[1]))
    east = (azimuth - facing + 180) % 360 - 180
    sense = 1 if latitude >= 0 else -1
    return (altitude - abs(latitude)) * 60, sense * east * np.cos(np.radians(altitude)) * 60


CASES = [
    (latitude, lean, high)
    for latitude in (0.0, 20.0, 38.57, 66.0, -12.0, -44.0)
    for lean, high in ((0.5, 0.0), (1.0, 90.0), (3.0, 215.0))
]


@pytest.mark.parametrize(("latitude", "lean", "high"), CASES)
def test_scale_and_turn_bring_the_axis_to_the_pole(
    latitude: float, lean: float, high: float
) -> None:
    """The promised setting, put on the tilted base, points to the pole to 1e-6 degrees."""
    tilt = Tilt(lean, high, 0.1)
    facing = 0.0 if latitude >= 0 else 180.0
    result = leftover(tilt, latitude)
    turn = result.base_turn_deg if latitude >= 0 else -result.base_turn_deg
    axis = axis_of_head(
        base_of(tilt, facing), facing + turn, abs(latitude) + result.scale_shift_deg
    )
    pole = np.array(
        [
            0.0,
            np.cos(np.radians(latitude)) * (1 if latitude >= 0 else -1),
            np.sin(np.radians(abs(latitude))),
        ]
    )
    assert np.degrees(np.arccos(min(1.0, float(axis @ pole)))) < 1e-5
    assert result.tracking_arcsec == 0.0


@pytest.mark.parametrize(("latitude", "lean", "high"), CASES)
def test_how_the_bolts_mix(latitude: float, lean: float, high: float) -> None:
    """One hundredth of a degree of each bolt, by rotation matrices, times a hundred."""
    tilt = Tilt(lean, high, 0.1)
    facing = 0.0 if latitude >= 0 else 180.0
    sense = 1 if latitude >= 0 else -1
    result = leftover(tilt, latitude)
    head = facing + sense * result.base_turn_deg
    scale = abs(latitude) + result.scale_shift_deg
    base = base_of(tilt, facing)
    start = np.array(high_east(axis_of_head(base, head, scale), latitude))
    raised = np.array(high_east(axis_of_head(base, head, scale + 0.01), latitude)) - start
    turned = np.array(high_east(axis_of_head(base, head + sense * 0.01, scale), latitude)) - start
    assert result.bolts[0] == pytest.approx(raised * 100, abs=0.03)
    assert result.bolts[1] == pytest.approx(turned * 100, abs=0.03)


def test_a_level_base_mixes_nothing() -> None:
    """Plain geometry: the azimuth bolt moves the axis by cos(latitude) of its turn."""
    result = leftover(Tilt(0.0, 0.0, 0.1), 60.0)
    assert result.bolts == pytest.approx(np.array([[60.0, 0.0], [0.0, 30.0]]), abs=1e-9)
    assert result.scale_shift_deg == pytest.approx(0.0, abs=1e-9)
    assert result.remains_per_pass == pytest.approx(0.0, abs=1e-12)


def test_a_tilt_along_the_meridian_only_shifts_the_scale() -> None:
    result = leftover(Tilt(1.0, 0.0, 0.1), 40.0)
    assert result.scale_shift_deg == pytest.approx(-1.0)
    assert result.base_turn_deg == pytest.approx(0.0, abs=1e-12)
    assert result.remains_per_pass == pytest.approx(0.0, abs=1e-12)


def test_what_is_left_after_a_round_of_both_bolts() -> None:
    """Simulated: zero 'high' with the one bolt, then 'east' with the other; what is left."""
    result = leftover(Tilt(4.0, 90.0, 0.1), 50.0)
    move = result.bolts / 60.0
    error = np.array([30.0, 0.0])
    error = error - move[0] * (error[0] / move[0, 0])
    error = error - move[1] * (error[1] / move[1, 1])
    assert np.abs(error[0]) / 30.0 == pytest.approx(result.remains_per_pass, rel=1e-9)


@pytest.mark.parametrize("latitude", [89.9, -89.9, 0.0])
def test_extreme_latitudes_answer(latitude: float) -> None:
    result = leftover(Tilt(1.0, 45.0, 0.1), latitude)
    assert np.all(np.isfinite(result.bolts))
