"""One covariance of all dimensions: held against arithmetic by hand and against drawn rigs."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.kit.parts.spreads import GuessReason
from axletree.kit.writing.template import new_kit_text
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.names import value_of
from axletree.mount.dimensions.of_kit import DimensionSource, dimensions_of
from axletree.mount.dimensions.propagate import guess_sigmas
from axletree.mount.rig.build import build_rig

FULL = demo_text("courtyard").replace("foot_radius_mm", "column_height_mm = 90\nfoot_radius_mm")
FULL += """
[[barlow]]
factor = 2
[camera]
pixel_um = 3.76
width_px = 3008
height_px = 3008
[[tube.accessory]]
mass_kg = 0.2
from_front_mm = 60
offset_mm = 95
radius_mm = 12
"""
FULL = FULL.replace("[tube.finder]", "[tube.finder]\nangle_deg = 50").replace(
    "diameter_mm = 182", "diameter_mm = 182\ndew_shield_length_mm = 80"
)
FULL = FULL.replace("mass_kg = 5.2", "mass_kg = 8.2")  # both weights go on the shaft


def kit_of(text: str) -> Kit:
    kit, problems = check_text(text)
    assert kit is not None, [str(p) for p in problems]
    return kit


def kits() -> list[Kit]:
    found = [demo_kit("courtyard"), demo_kit("paddock"), kit_of(FULL)]
    for kind in ("newtonian", "refractor", "catadioptric"):
        for size in ("small", "middle", "large"):
            found.append(kit_of(new_kit_text("x", None, kind, 130, 900, size)))
    return found


KITS = kits()


@pytest.mark.parametrize("kit", KITS, ids=lambda k: f"{k.name} {k.tube.kind} {k.mount.size}")
def test_every_covariance_is_one(kit: Kit) -> None:
    """scipy refuses a matrix that isn't symmetric and positive definite."""
    found = dimensions_of(kit)
    assert len(found.names) > 40
    law = multivariate_normal(found.values, found.covariance, allow_singular=False)
    assert np.isfinite(law.logpdf(found.values))
    assert found.covariance == pytest.approx(found.covariance.T, abs=0)
    assert np.sqrt(np.diagonal(found.covariance)) == pytest.approx(found.sigmas)
    assert (found.sigmas > 0).all()
    for source, reason in zip(found.sources, found.reasons, strict=True):
        assert (reason is not None) == (source is DimensionSource.GUESSED)


def of(text: str, name: str) -> tuple[float, DimensionSource, GuessReason | None]:
    found = dimensions_of(kit_of(text))
    i = found.index(name)
    return float(found.sigmas[i]), found.sources[i], found.reasons[i]


@pytest.mark.parametrize(
    ("old", "new", "name", "sigma"),
    [
        # By hand: 2 mm or 2 %, whichever is larger; what is given with its error keeps it.
        ("length_mm = 700", "length_mm = 700", "tube.length_mm", 14.0),
        ("length_mm = 700", "length_mm = { value = 700, error = 3 }", "tube.length_mm", 3.0),
        ("thickness_mm = 50", "thickness_mm = 50", "mount.weight[1].thickness_mm", 2.0),
        ("mass_kg = 5.2", "mass_kg = 5.2", "tube.mass_kg", 0.104),
        ("mass_kg = 0.14", "mass_kg = 0.14", "eyepiece[2].mass_kg", 0.02),
        ("ring_turn_deg = 0", "ring_turn_deg = 0", "tube.ring_turn_deg", 2.0),
        ("mass_kg = 0.14", "mass_kg = { value = 0.14, error = 0.005 }", "eyepiece[2].mass_kg",
         0.005),
        ("foot_radius_mm", "leg_directions_deg = { value = [0, 120, 240], error = 4 }\n"
         "foot_radius_mm", "mount.tripod.leg_directions_deg[2]", 4.0),
        ("foot_radius_mm", "turned_deg = { value = 5, error = 1.5 }\nfoot_radius_mm",
         "mount.tripod.turned_deg", 1.5),
    ],
)  # fmt: skip
def test_what_is_given_is_known_as_well_as_the_kit_says(
    old: str, new: str, name: str, sigma: float
) -> None:
    text = demo_text("courtyard")
    assert old in text
    got, source, reason = of(text.replace(old, new, 1), name)
    assert got == pytest.approx(sigma)
    assert source is (DimensionSource.MEASURED if "error" in new else DimensionSource.READ_OFF)
    assert reason is None


MINIMAL = new_kit_text("x", None, "newtonian", 150, 750, "middle")


def test_a_tube_is_guessed_better_than_a_saddle() -> None:
    found = dimensions_of(kit_of(MINIMAL))
    share = found.sigmas / np.abs(np.where(found.values == 0, np.nan, found.values))
    length, saddle = (share[found.index(n)] for n in ("tube.length_mm", HEAD[0]))
    assert length < 0.5 * saddle
    assert found.reasons[found.index("tube.length_mm")] is GuessReason.FOCAL_LENGTH
    assert found.reasons[found.index(HEAD[0])] is GuessReason.MOUNT_SIZE
    assert len(set(np.round(share[~np.isnan(share)], 3))) > 8, "not one figure for all"


HEAD = ("mount.head.saddle_distance_mm", "mount.head.shaft_length_mm", "tube.length_mm")


def test_guesses_from_a_guess_by_hand() -> None:
    """A Newtonian's length is 0.92 of its focal length (750 mm, read off: 15 mm) and adds 4 % of
    its own; its balance point is 0.6 of that and adds 8 %; the focuser's place is the length less
    0.8 focal lengths, and adds 15 mm. Variances by the rules of sums."""
    found = dimensions_of(kit_of(MINIMAL))
    names = ("tube.length_mm", "tube.balance_from_front_mm", "tube.focuser_from_front_mm")
    C = found.only(names).covariance
    own_length, focal = 0.04 * 690.0, 15.0
    length = (0.92 * focal) ** 2 + own_length**2
    assert C[0, 0] == pytest.approx(length, rel=1e-6)
    assert C[0, 1] == pytest.approx(0.6 * length, rel=1e-6)
    assert C[1, 1] == pytest.approx(0.36 * length + (0.08 * 414.0) ** 2, rel=1e-6)
    assert C[2, 2] == pytest.approx((0.12 * focal) ** 2 + own_length**2 + 15.0**2, rel=1e-6)
    # Measured, the length takes its error to the balance point and leaves the focal length out.
    text = MINIMAL.replace("# length_mm = 620", "length_mm = { value = 690, error = 2 }")
    C = dimensions_of(kit_of(text)).only(names).covariance
    assert C[0, 0] == pytest.approx(4.0)
    assert C[0, 1] == pytest.approx(0.6 * 4.0, rel=1e-6)


def test_what_one_size_stands_for_is_shared() -> None:
    """Bigger mounts of one size are bigger in all: our figure, 0.3 of the variance."""
    found = dimensions_of(kit_of(MINIMAL)).only(HEAD)
    R = found.covariance / np.outer(found.sigmas, found.sigmas)
    assert R[0, 1] == pytest.approx(0.3)
    assert R[0, 2] == 0.0
    text = MINIMAL.replace("# saddle_distance_mm = 150", "saddle_distance_mm = 150")
    assert dimensions_of(kit_of(text)).only(HEAD).covariance[0, 1] == 0.0


def test_the_spread_of_drawn_rigs_is_that_of_a_sum_by_hand() -> None:
    """Hinge over the ground: top, column and pivot. 4,000 draws by scipy: good to 1.1 % (1 sigma)
    in the spread; 4 % are allowed."""
    kit = kit_of(FULL)
    found = dimensions_of(kit)
    part = found.only(["mount.tripod.top_height_mm", "mount.tripod.column_height_mm",
                       "mount.head.pivot_height_mm"])  # fmt: skip
    drawn = multivariate_normal(part.values, part.covariance).rvs(4000, random_state=16)
    heights = []
    for values in drawn:
        changed = with_dimensions(kit, values, part.names)
        tripod, head = changed.mount.tripod, changed.mount.head
        heights.append(tripod.top_height_mm + tripod.column_height_mm + head.pivot_height_mm)
    by_hand = np.sqrt(15.6**2 + 2.0**2 + (0.2 * 110) ** 2)
    assert np.std(heights) == pytest.approx(by_hand, rel=0.04)
    ones = np.ones(3)
    assert np.sqrt(ones @ part.covariance @ ones) == pytest.approx(by_hand, rel=1e-9)


def test_a_kit_with_its_own_values_is_the_same_kit() -> None:
    for kit in KITS:
        assert with_dimensions(kit, dimensions_of(kit).values) == kit


@pytest.mark.parametrize("kit", [KITS[2], KITS[6]], ids=lambda k: k.tube.kind)
def test_each_value_arrives_and_nothing_else_changes(kit: Kit) -> None:
    found = dimensions_of(kit)
    assert len(found.names) > 40
    for i, name in enumerate(found.names):
        changed = with_dimensions(kit, [found.values[i] + found.sigmas[i]], [name])
        again = np.array([value_of(changed, n) for n in found.names])
        moved = np.flatnonzero(again != found.values)
        assert moved.tolist() == [i], name
        assert again[i] == pytest.approx(found.values[i] + found.sigmas[i])


def built(kit: Kit) -> list[Any]:
    """Everything of the rig with each eyepiece, the camera, and the weights where they were."""
    loading = build_rig(KITS[2]).loading
    rigs = [build_rig(kit, eyepiece=i, loading=loading) for i in range(len(kit.eyepieces))]
    rigs.append(build_rig(kit, camera=True, loading=loading))
    rigs.append(build_rig(kit))
    return [
        (r.start_m, r.end_m, r.radius_m, r.mass_kg, r.centre_m, r.eye_point_m,
         [r.crossing_along_m, r.crossing_above_m])
        for r in rigs
    ]  # fmt: skip


def test_every_dimension_moves_or_weighs_something() -> None:
    kit = KITS[2]
    found, before = dimensions_of(kit), built(kit)
    idle = []
    for i, name in enumerate(found.names):
        after = built(with_dimensions(kit, [found.values[i] + found.sigmas[i]], [name]))
        same: Callable[[Any, Any], bool] = np.array_equal
        if all(
            same(a, b)
            for x, y in zip(before, after, strict=True)
            for a, b in zip(x, y, strict=True)
        ):
            idle.append(name)
    # The Barlow's mass counts where balance asks for its eyepiece; this rig's middle one has none.
    assert set(idle) <= {"barlow[1].mass_kg"}


def test_what_is_not_there_has_no_dimension() -> None:
    found = dimensions_of(demo_kit("courtyard"))
    for name in ("mount.tripod.column_height_mm", "tube.dew_shield_length_mm", "camera.mass_kg",
                 "tube.diagonal_arm_mm", "tube.aperture_mm"):  # fmt: skip
        assert name not in found.names


def test_what_does_not_fit_is_refused() -> None:
    kit = demo_kit("courtyard")
    with pytest.raises(AxletreeError, match="need as many values"):
        with_dimensions(kit, [1.0], ["tube.length_mm", "tube.mass_kg"])
    for name in ("tube.lenght_mm", "eyepiece[9].mass_kg", "camera.mass_kg", "tube.accessory[1].x"):
        with pytest.raises(AxletreeError, match="has no"):
            with_dimensions(kit, [1.0], [name])


def test_guesses_that_hang_together_do_not_add_in_square() -> None:
    """How far a Newtonian's balance point lies from its back, by hand: the length's 4 % and 0.92
    of 15 mm count 0.4 times, the balance point's own 8 % once; the saddle has no part in it."""
    kit = kit_of(MINIMAL)
    names = ("tube.length_mm", "tube.balance_from_front_mm", HEAD[0])
    sigmas, used = guess_sigmas(
        kit, names, lambda k: [k.tube.length_mm - k.tube.balance_from_front_mm, 1.0]
    )
    length = np.hypot(0.92 * 15.0, 0.04 * 690.0)
    assert sigmas == pytest.approx([np.hypot(0.4 * length, 0.08 * 414.0), 0.0], rel=1e-5)
    assert used == names[:2]
    measured = kit.model_copy(update={"guessed": ()})
    assert guess_sigmas(measured, names, lambda k: [k.tube.length_mm]) == (np.zeros(1), ())
