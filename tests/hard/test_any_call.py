"""Every public function, called with plausible values and edges: an answer or one line.

Which values follows from the names (see `supplies.py`). No other exception and no warning of the
arithmetic may come out; where all words are numbers an array gives what its elements give.
"""

from __future__ import annotations

import random
import warnings

import numpy as np
import pytest
from supplies import FLOORS, NUMBERS, arguments, needed, public_functions

from axletree.kit.errors import AxletreeError, one_line

# They take matrices, polygons or lists that belong together; their own tests call them.
SHAPED = {
    "sky.matrices.knot_values", "sky.matrices.tents", "ground.yard.ridge_ends",
    "ground.yard.within_outline", "mount.clearance.polar_line", "mount.guesses.enlarged",
    "mount.kinematics.place", "mount.masses.weight_masses", "mount.reach.stretches",
    "mount.support.edges", "mount.support.extra_mass_kg", "mount.support.margins_m",
    "mount.support.pull_down_n", "mount.support.push_n", "mount.swing.inertia_about",
    "pole.attitude.axis_of", "pole.attitude.circle_centre", "pole.attitude.rotation_about",
    "pole.attitude.rotation_between", "pole.attitude.rotation_vector",
    "pole.attitude.small_rotation", "pole.attitude.turn_about",
    "pole.doubt.shown_among", "pole.doubt.still_standing", "pole.doubt.unchecked",
    "pole.estimate.worst_sigma_arcmin", "pole.frames.solve_frames",
    "pole.least_squares.sigmas_of", "pole.mount_frame.mount_angles", "pole.movement.in_tube",
    "pole.next_star.next_check", "pole.next_star.next_drift",
    "pole.readings_model.expected_readings",
    "evening.night_samples.hours_above", "evening.document.read_evening",
}  # fmt: skip
# Whole plans and years take seconds; the long run calls them.
SLOW = {
    "evening.plan.plan_evening", "evening.plan.plan_whole", "evening.plan.prepare",
    "evening.nights_scored.score_nights",
}  # fmt: skip
# Many measurements make one answer here.
JOINT = {"pole.drift.solve_drift"}
CALLS = 4
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
        if name in JOINT or not arrays or not set(kinds.values()) <= {*NUMBERS, "Observer", "Axes"}:
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
