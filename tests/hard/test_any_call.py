"""Every public function, called with plausible values and edges: an answer or one line.

Which values follows from the names (see `supplies.py`). No other exception and no warning of the
arithmetic may come out; where all words are numbers an array gives what its elements give.
"""

from __future__ import annotations

import os
import random
import warnings

import numpy as np
import pytest
from supplies import FLOORS, NUMBERS, arguments, needed, public_functions

from axletree.kit.errors import AxletreeError, one_line

# They take matrices, polygons or lists that belong together; their own tests call them.
SHAPED = {
    "sky.bulk.matrices.knot_values",
    "sky.bulk.matrices.tents",
    "ground.skyline.yard.ridge_ends",
    "ground.skyline.yard.within_outline",
    "mount.clearance.nearest.polar_line",
    "mount.rig.field_orientation.sky_ways",
    "mount.rig.field_orientation.upright_head",
    "mount.rig.kinematics.place",
    "mount.balance.masses.weight_masses",
    "mount.photographed.camera.looking",
    "mount.photographed.places.places_m",
    "mount.room.reach.stretches",
    "mount.steady.support.edges",
    "mount.steady.support.extra_mass_kg",
    "mount.steady.support.margins_m",
    "mount.steady.support.pull_down_n",
    "mount.steady.support.push_n",
    "mount.steady.swing.inertia_about",
    "pole.frames.attitude.axis_of",
    "pole.frames.attitude.circle_centre",
    "pole.frames.attitude.rotation_between",
    "pole.frames.attitude.rotation_vector",
    "pole.frames.attitude.turn_about",
    "pole.frames.one_run.too_low_one",
    "pole.solution.doubt.shown_among",
    "pole.solution.doubt.still_standing",
    "pole.solution.doubt.unchecked",
    "pole.solution.estimate.worst_sigma_arcmin",
    "pole.frames.solve.solve_frames",
    "pole.frames.solve.solve_attitudes",
    "pole.photographs.detection.on_the_sensor",
    "pole.photographs.detection.star_images",
    "pole.photographs.lens.places",
    "pole.photographs.lens.rays",
    "pole.photographs.listed.listed_around",
    "pole.photographs.matching.pairs_within",
    "pole.photographs.quads.alike",
    "pole.photographs.quads.counted",
    "pole.photographs.quads.neighbours",
    "pole.photographs.quads.quads_of",
    "pole.photographs.refine.refine",
    "pole.photographs.run.rms",
    "pole.photographs.spots.gather",
    "pole.picture_files.fits_pixels.without_mosaic",
    "pole.picture_files.reading.reduce",
    "pole.solution.least_squares.sigmas_of",
    "axis.frame.mount_angles",
    "axis.frame.mount_rates",
    "axis.frame.sky_angles",
    "axis.spread.each_of",
    "pole.enough.movement.in_tube",
    "pole.correct.next_star.next_check",
    "pole.correct.next_star.next_drift",
    "pole.readings.model.expected_readings",
    "evening.year.night_samples.hours_above",
    "tell.evening.document.read_evening",
    "pole.frames.air.lifted_otherwise",
    "sky.discs.look.axis_angle_deg",
    "sky.rotations.rotation_about",
    "sky.rotations.small_rotation",
    "sky.lunar.turn.euler_angles_rad",
    "sky.lunar.turn.to_mean_earth_axes",
    "evening.seeing.pairs.clearly_apart_mag",
    # Places and velocities (n, 3) of one body each, so small that the Sun pulls them round.
    "sky.orbits.two_body.elements_from_state",
    # Places (n, m, 3) for m instants, in kilometres from the Earth's centre.
    "sky.satellites.motion.earth_fixed",
    # Places (..., 3) in kilometres, a satellite outside the Earth and the Sun far from it.
    "sky.satellites.shadow.above_shadow_deg",
}
# Whole plans and years take seconds; the long run calls them.
SLOW = {
    "evening.sheet.plan.plan_evening",
    "evening.sheet.plan.plan_whole",
    "evening.sheet.plan.prepare",
    "evening.year.nights_scored.score_nights",
}
CALLS = 4 if os.environ.get("AXLETREE_LONG") else 2
LEAST_CALLED = 340


def _functions(floor=""):
    for name, function in public_functions():
        if name.startswith(floor) and name not in SHAPED | SLOW:
            yield name, function


@pytest.mark.parametrize("floor", FLOORS)
def test_an_answer_or_one_line(floor):
    wrong = []
    with warnings.catch_warnings():
        warnings.simplefilter("error", RuntimeWarning)
        for name, function in _functions(f"{floor}."):
            for k in range(CALLS):
                given = arguments(random.Random(f"{name} {k}"), function, () if k % 2 else (4,))
                if given is None:
                    break
                try:
                    function(**given)
                except AxletreeError as refused:
                    if len(one_line(refused)) < 15:
                        wrong.append(f"{name} refuses badly: {refused}")
                except Exception as error:
                    shown = {k: v for k, v in given.items() if isinstance(v, (int, float, str))}
                    wrong.append(f"{name}: {error!r} with {shown}")
    assert not wrong, "\n".join(wrong)


def _leaves(result):
    if isinstance(result, tuple):
        return list(result)
    return [getattr(result, n) for n in getattr(result, "__dataclass_fields__", ())] or [result]


def test_arrays_give_what_their_elements_give():
    wrong, compared = [], 0
    for name, function in _functions():
        kinds = needed(function)
        arrays = [n for n, k in kinds.items() if k in ("ArrayLike", "Floats")]
        if not arrays or not set(kinds.values()) <= {*NUMBERS, "Observer", "Axes"}:
            continue
        given = arguments(random.Random(f"{name} arrays"), function, (4,))
        try:
            whole = _leaves(function(**given))
            each = [
                _leaves(function(**{n: v[i] if n in arrays else v for n, v in given.items()}))
                for i in range(4)
            ]
        except AxletreeError:
            continue
        for at, leaf in enumerate(whole):
            leaf = np.asarray(leaf)
            if leaf.dtype.kind != "f" or leaf.shape[:1] != (4,):
                continue
            apart = np.stack([np.asarray(one[at], dtype=float) for one in each])
            compared += 1
            if apart.shape != leaf.shape or not np.allclose(
                apart, leaf, rtol=1e-9, atol=1e-9, equal_nan=True
            ):
                wrong.append(f"{name}[{at}]: {leaf} but {apart}")
    assert not wrong, "\n".join(wrong)
    assert compared > 80


def test_how_many_are_called():
    """Most public functions can be supplied; those that can't take documents or open files."""
    called = [n for n, f in _functions() if arguments(random.Random(n), f) is not None]
    assert len(called) >= LEAST_CALLED, len(called)
