"""Clearance against coal, an independent collision library (GJK), to a micrometre.

The library is given capsules and cylinders placed by the kinematics; our distances come by
another road, from segments turned into the moving part's own frame.
"""

from __future__ import annotations

import coal
import numpy as np
import pytest

from axletree.kit.kit import demo_kit
from axletree.mount.clearance.nearest import bodies, distances, least_distance
from axletree.mount.clearance.rods import line_to_rod, rod, rod_above_plane
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, placed
from axletree.mount.rig.parts import HEAD, POLAR

MICROMETRE = 1e-6


def _request() -> coal.DistanceRequest:
    request = coal.DistanceRequest()
    request.gjk_tolerance = 1e-9
    request.enable_signed_distance = True
    return request


REQUEST = _request()


def _shape(start, end, radius, flat):
    """The library's shape and place of one rod: its own axis is z, its origin in the middle."""
    step = end - start
    length = float(np.linalg.norm(step))
    z = step / length if length > 0 else np.array([0.0, 0.0, 1.0])
    x = np.cross(z, [1.0, 0.0, 0.0] if abs(z[0]) < 0.9 else [0.0, 1.0, 0.0])
    x /= np.linalg.norm(x)
    turn = np.stack((x, np.cross(z, x), z), axis=1)
    make = coal.Cylinder if flat else coal.Capsule
    return make(max(float(radius), 1e-12), length), coal.Transform3s(turn, (start + end) / 2)


def _apart(a, b) -> float:
    return coal.distance(*a, *b, REQUEST, coal.DistanceResult())


@pytest.mark.parametrize("flat", [False, True])
def test_rods_anywhere(flat):
    rng = np.random.default_rng(7)
    worst = 0.0
    for i in range(5000):
        a, b = rng.normal(size=(2, 3)) * 0.5
        p, q = rng.normal(size=(2, 3)) * 0.6
        if i % 10 == 0:  # parallel, exactly and nearly
            q = p + (b - a) * rng.uniform(-1, 1) + (1e-7 if i % 20 else 0.0)
        if i % 50 == 3:  # a point
            q = p.copy()
        radius, other = rng.uniform(0.01, 0.15), rng.uniform(0.005, 0.05)
        step = q - p
        line = (*p[:, None], *step[:, None])
        ours = float(line_to_rod(line, float(step @ step), rod(a, b, radius, flat))[0]) - other
        theirs = _apart(_shape(a, b, radius, flat), _shape(p, q, other, False))
        if theirs > 0:
            worst = max(worst, abs(ours - theirs))
        else:
            assert ours < MICROMETRE
    assert worst < MICROMETRE


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_five_thousand_random_poses_of_a_rig(name):
    kit = demo_kit(name)
    rig = build_rig(kit)
    axes = align(kit.site.latitude_deg, high_arcmin=20.0, east_arcmin=-35.0, cone_arcmin=12.0,
                 lean_arcmin=-9.0)  # fmt: skip
    b = bodies(rig, axes)
    rng = np.random.default_rng(11)
    h, w = rng.uniform(-12, 12, 5000), rng.uniform(-180, 180, 5000)
    start, end = placed(rig, axes, h, w)
    statics = [k for k in range(len(rig.names)) if rig.frame[k] <= HEAD]
    solid = [k for k, p in enumerate(b.pairs) if p.static >= 0]
    chosen = rng.choice(solid, 5000)
    moving = _rows_of_pairs(rig, b)
    touching = 0
    for i, k in enumerate(chosen):
        pair = b.pairs[k]
        m, s = moving[k], statics[pair.static]
        ours = float(distances(b, h[i], w[i], [int(k)])[0])
        theirs = _apart(
            _shape(start[i, m], end[i, m], rig.radius_m[m], rig.flat[m]),
            _shape(start[i, s], end[i, s], rig.radius_m[s], False),
        )
        if theirs > 0:
            assert ours == pytest.approx(theirs, abs=MICROMETRE), (pair.words, h[i], w[i])
        else:
            touching += 1
            assert ours < MICROMETRE
    assert touching > 10


def _rows_of_pairs(rig, b):
    """Row of the moving part of every pair, counted in the order that the pairs are made in."""
    rows, seen = [], -1
    movers = [k for k in range(len(rig.names)) if rig.frame[k] >= POLAR]
    last = None
    for pair in b.pairs:
        if pair.rod is not last:
            seen += 1
            last = pair.rod
        rows.append(movers[seen])
        assert rig.names[movers[seen]] == pair.moving
    return rows


def test_least_distance_of_everything_that_moves():
    """All solids against all others in the library, whatever our pairs leave out."""
    kit = demo_kit("courtyard")
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    b = bodies(rig, axes)
    rng = np.random.default_rng(5)
    h = rng.uniform(-12, 12, 60)
    w = rng.uniform(-180, 180, 60)
    start, end = placed(rig, axes, h, w)
    ours, which = least_distance(b, h, w)
    passing = {
        ("declination housing", "mount base"),
        ("declination housing", "polar housing"),
        ("counterweight shaft", "polar housing"),
        ("counterweight", "polar housing"),
    }
    for i in range(len(h)):
        shapes = [
            _shape(start[i, k], end[i, k], rig.radius_m[k], rig.flat[k])
            for k in range(len(rig.names))
        ]
        least = min(
            _apart(shapes[m], shapes[s])
            for m in range(len(rig.names))
            for s in range(len(rig.names))
            if rig.frame[m] >= POLAR
            and rig.frame[s] <= HEAD
            and (rig.names[m], rig.names[s]) not in passing
        )
        points = np.concatenate((start[i], end[i]))[np.tile(rig.frame >= POLAR, 2)]
        ground = float((points @ rig.ground_normal).min())  # at least this far, less a radius
        if least > 0 and b.pairs[which[i]].other != "ground":
            assert ours[i] == pytest.approx(least, abs=MICROMETRE)
            assert ours[i] <= ground + MICROMETRE
        else:
            assert ours[i] <= max(least, ground) + MICROMETRE


def test_height_above_sloping_ground_against_a_half_space():
    rng = np.random.default_rng(3)
    for _ in range(500):
        a, b = rng.normal(size=(2, 3)) + np.array([0.0, 0.0, 3.0])
        n = np.array([*rng.uniform(-0.3, 0.3, 2), 1.0])
        n /= np.linalg.norm(n)
        flat = bool(rng.integers(2))
        radius = rng.uniform(0.01, 0.2)
        ours = float(rod_above_plane(*n, 0.0, rod(a, b, radius, flat)))
        plane = (coal.Halfspace(n, 0.0), coal.Transform3s())
        theirs = _apart(_shape(a, b, radius, flat), plane)
        if theirs > 0:
            assert ours == pytest.approx(theirs, abs=MICROMETRE)
