"""What touches and gaps teach of a rig: against a grid, other code's distances, and rigs drawn."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from axletree.axis.model import unmeasured
from axletree.axis.state import GapNote, State
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.mount.clearance.nearest import bodies
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.learned.agreeing import PROPOSED, _of_shares
from axletree.mount.learned.expected import NotedPoses
from axletree.mount.learned.learn import LearnedRig, learned_rig
from axletree.mount.learned.misfit import MayBe
from axletree.mount.learned.narrow import SHAPE_ERROR_M, narrowed
from axletree.mount.learned.numbers import SET_UP_ANEW, numbers_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.mount.room.choice import choose
from axletree.mount.room.table import HOURS_PER_SECOND, room_table
from axletree.mount.sure.room_doubt import RoomDoubt, SkyCourse, room_doubt
from axletree.mount.sure.shapes import changed_rig
from axletree.mount.sure.spread import RigSpread, normals
from mount.noted_gaps import AT, TONIGHT, noted_gap
from mount.rigs_drawn import DrawnRigs, draw, first_touch_h

SADDLE = "mount.head.saddle_distance_mm"
ROOM = (1, -3.0, 46.0)  # side west


def learned_of(kit: Kit, *notes: GapNote, set_up: date = TONIGHT) -> LearnedRig:
    state = State(unmeasured(0.0, 0.0), TONIGHT, AT, 0, None, notes, set_up)
    found = learned_rig(kit, state)
    assert found is not None
    return found


def notes_on(kit: Kit, seed: int = 4, gaps: tuple[float, ...] = (15.0, 30.0, 0.0)) -> list[GapNote]:
    axes, rig = align(kit.site.latitude_deg), build_rig(kit)
    rng = np.random.default_rng(seed)
    ways = [(-1, -3.5, 46.0 + off) for off in (-9.0, -3.0, 3.0)]
    found = [noted_gap(rig, axes, way, gap, rng) for way, gap in zip(ways, gaps, strict=False)]
    notes = [note for note in found if note is not None]
    assert len(notes) == len(gaps)
    return notes


def doubt_of(kit: Kit) -> RoomDoubt:
    table = room_table(kit, of_few=True)
    side, H, d = ROOM
    course = SkyCourse(H, d, HOURS_PER_SECOND)
    found = room_doubt(
        RigSpread.of(kit, table), table, choose(kit, table, H, d).sides[side], course
    )
    assert found is not None
    return found


def test_one_dimension_is_what_bayes_rule_on_a_grid_gives() -> None:
    """Bayes' rule by sums over a grid; gaps from alternating projections, rigs built anew."""
    kit = demo_kit("courtyard")
    known = dimensions_of(kit)
    sigma = np.full(len(known.names), 1e-9)
    at = known.index(SADDLE)
    sigma[at] = 27.0
    alone = replace(known, sigmas=sigma, covariance=np.diag(sigma**2))
    axes, rig = align(kit.site.latitude_deg), build_rig(kit)
    spread = RigSpread(kit, rig, axes, bodies(rig, axes), alone)
    true = with_dimensions(kit, [known.values[at] - 24.0], [SADDLE])
    (note,) = notes_on(true, gaps=(15.0,))
    note = replace(note, pose_error_deg=0.0)
    found = narrowed(spread, [note], [TONIGHT], TONIGHT)
    grid = np.linspace(known.values[at] - 90.0, known.values[at] + 90.0, 37)
    rigs = DrawnRigs([changed_rig(kit, rig, (SADDLE,), np.array([x])) for x in grid], axes)
    # The gap in the noted pose: the limit at which a rig is just nearer there.
    low, high = np.full(len(grid), -0.2), np.full(len(grid), 0.4)
    side, H, d = -1, note.hour_angle_h, note.declination_deg
    for _ in range(10):
        middle = 0.5 * (low + high)
        at_once = first_touch_h(rigs, side, H, d, np.array([0.0]), middle[:, None], 0.4)
        nearer = np.isfinite(at_once)
        low, high = np.where(nearer, low, middle), np.where(nearer, middle, high)
    gap_mm = 500.0 * (low + high)
    error = np.hypot(note.error_mm, 1000.0 * SHAPE_ERROR_M)
    weight = np.exp(
        -0.5 * ((gap_mm - note.gap_mm) / error) ** 2
        - 0.5 * ((grid - known.values[at]) / 27.0) ** 2
    )  # fmt: skip
    weight /= weight.sum()
    mean = float(weight @ grid)
    spread_mm = float(np.sqrt(weight @ (grid - mean) ** 2))
    assert known.values[at] + found.off[at] == pytest.approx(mean, abs=0.25 * spread_mm)
    assert np.sqrt(found.covariance[at, at]) == pytest.approx(spread_mm, rel=0.15)


def test_rigs_weighed_have_the_mean_and_spread_of_the_weighed_distribution() -> None:
    """A normal distribution times max(v, 0) by numerical integration; across it nothing changes."""

    def weighed(v: float, x: float, power: int) -> float:
        return v ** (power + 1) * float(norm.pdf(v - x))

    drawn, told = normals(2, PROPOSED), np.array([[1.0, 0.0]])
    for x in (-0.5, 0.0, 1.0, 3.0):
        moments = [quad(weighed, 0.0, x + 12.0, (x, k), epsabs=1e-14)[0] for k in range(3)]
        mean = moments[1] / moments[0]
        variance = moments[2] / moments[0] - mean**2
        share = np.maximum(x + drawn[0], 0.0)
        middle, covariance, off = _of_shares(np.eye(2), drawn, share / share.sum(), told)
        assert x + middle[0] == pytest.approx(mean, abs=0.04)
        assert covariance[0, 0] == pytest.approx(variance, rel=0.06)
        assert middle[1] == pytest.approx(0.0)
        assert covariance[1] == pytest.approx(np.array([0.0, 1.0]))
        rigs = x + middle[0] + off[0]
        assert rigs.min() > 0.0
        assert rigs.mean() == pytest.approx(mean, abs=0.06)
        assert rigs.var() == pytest.approx(variance, rel=0.1)


def test_a_gap_that_was_waited_for_closes() -> None:
    kit = demo_kit("courtyard")
    axes, rig, known = align(kit.site.latitude_deg), build_rig(kit), dimensions_of(kit)
    spread = RigSpread(kit, rig, axes, bodies(rig, axes), known)
    looked_at = notes_on(kit, gaps=(15.0,))
    waited_for = [replace(looked_at[0], object="Capella")]
    poses = NotedPoses.of(spread, looked_at)
    opens = []
    for notes in (looked_at, waited_for):
        found = narrowed(spread, notes, [TONIGHT], TONIGHT)
        off = found.off[:, None] + found.drawn[:, ::64]
        gaps = [
            [
                way.gaps_m([spread.shapes_at(one)])[0].min()
                for way in (poses.later(-0.1), poses.later(0.1))
            ]
            for one in off[: len(known.names)].T
        ]
        opens.append(np.mean([sooner < later for sooner, later in gaps]))
    assert opens[1] <= opens[0]
    assert opens[1] < 0.05


def test_three_notes_halve_the_error_of_rooms_ended_by_the_same_parts() -> None:
    kit = demo_kit("courtyard")
    axes = align(kit.site.latitude_deg)
    before = doubt_of(kit)
    off: list[tuple[float, float]] = []
    told: list[float] = []
    count = 2000 if os.environ.get("AXLETREE_LONG") else 4
    for k, rig in enumerate(draw(kit, axes, dimensions_of(kit), count, seed=11).rigs):
        rng = np.random.default_rng(k)
        notes = [
            noted_gap(rig, axes, (-1, -3.5, 46.0 + by), gap, rng)
            for by, gap in ((-9.0, 15.0), (-3.0, 30.0), (3.0, 0.0))
        ]
        hours = np.arange(0.0, 9.0, 0.2)
        true = first_touch_h(DrawnRigs([rig], axes), -1, *ROOM[1:], hours, 0.0, 0.15)[0]
        kept = [note for note in notes if note is not None]
        if len(kept) < 3 or not 0.0 < true < np.inf:
            continue
        after = doubt_of(learned_of(kit, *kept).kit)
        ends = (float(np.median(d.first_s)) / 3600.0 for d in (before, after))
        a, b = (abs(min(end, 9.0) - true) for end in ends)
        off.append((a, b))
        told.append(after.half_width_s)
    assert len(off) >= 3
    rms = np.sqrt((np.array(off) ** 2).mean(axis=0))
    assert rms[1] < 0.5 * rms[0]
    assert np.mean(told) < 0.5 * before.half_width_s


def test_a_note_with_the_other_side_is_named_and_left_out() -> None:
    kit = demo_kit("courtyard")
    good = notes_on(kit)
    wrong = replace(good[2], side="east", key="wrong")
    found = learned_of(kit, *good[:2], wrong)
    assert [one.note.key for one in found.left_out] == ["wrong"]
    assert found.left_out[0].may_be is MayBe.OTHER_SIDE
    assert abs(found.left_out[0].sigmas) > 3.0
    assert len(found.used) == 2


def test_notes_that_agree_with_each_other_but_not_with_the_kit_are_left_out() -> None:
    kit = demo_kit("courtyard")
    wrong = replace(notes_on(kit)[1], gap_mm=200.0)
    found = learned_of(kit, wrong, replace(wrong, gap_mm=198.0, key="again"))
    assert not found.used
    assert len(found.left_out) == 2


def test_two_notes_that_contradict_each_other_are_told_of_each_other() -> None:
    kit = demo_kit("courtyard")
    good = notes_on(kit)
    wrong = replace(good[1], gap_mm=90.0, key="wrong")
    found = learned_of(kit, good[1], wrong)
    assert len(found.left_out) == 1
    misfit = found.left_out[0]
    assert misfit.may_be is MayBe.OTHER_NOTE
    assert misfit.other in (good[1], wrong)


def test_a_plain_number_that_is_wrong_is_named() -> None:
    """A kit whose lengths were all read off, one of them wrongly."""
    text = demo_text("courtyard")
    assert "length_mm = 700" in text
    known, _ = check_text(text)
    assert known is not None
    sure = dimensions_of(known)
    true = with_dimensions(known, [sure.values[sure.index(SADDLE)] + 45.0], [SADDLE])
    table = "[mount.head]\n"
    assert table not in text
    given, problems = check_text(
        text.replace("[[mount.weight]]", f"{table}saddle_distance_mm = 150\n\n[[mount.weight]]", 1)
    )
    assert given is not None, problems
    covariance = np.diag(np.minimum(dimensions_of(given).sigmas, 2.0) ** 2)
    rows = tuple((n, tuple(r)) for n, r in zip(sure.names, covariance.tolist(), strict=True))
    spread_kit = given.model_copy(update={"learned": rows})
    axes, rig = align(given.site.latitude_deg), build_rig(given)
    spread = RigSpread(given, rig, axes, bodies(rig, axes), dimensions_of(spread_kit))
    from axletree.mount.learned.misfit import misfit_of

    notes = notes_on(true)[:1]
    found = narrowed(spread, notes, [TONIGHT], TONIGHT)
    told = misfit_of(spread, notes, [TONIGHT], TONIGHT, found)
    assert told is not None
    assert told[1].may_be is MayBe.DIMENSION
    assert told[1].dimension is not None


def test_how_the_tripod_stood_on_another_evening_tells_nothing_of_tonight() -> None:
    kit = demo_kit("courtyard")
    known = dimensions_of(kit)
    other = date(2026, 11, 20)
    numbers, group = numbers_of(known, [TONIGHT, other, other], TONIGHT)
    n, anew = len(known.names), [known.names.index(name) for name in sorted(SET_UP_ANEW)]
    assert numbers.count == n + len(anew)
    assert group.tolist() == [0, 1, 1]
    assert (numbers.places[0] == np.arange(n)).all()
    assert set(numbers.places[1]) - set(range(n)) == set(range(n, n + len(anew)))
    notes = [replace(note, evening=other) for note in notes_on(kit)]
    found = learned_of(kit, *notes)
    after, turned = dimensions_of(found.kit), known.index("mount.tripod.turned_deg")
    assert after.sigmas[turned] == pytest.approx(known.sigmas[turned], rel=1e-6)
    tonight = dimensions_of(learned_of(kit, *notes, set_up=other).kit)
    assert tonight.sigmas[turned] < 0.999 * known.sigmas[turned]


def test_measure_first_and_errors_follow_what_was_learned() -> None:
    kit = demo_kit("courtyard")
    learned = learned_of(kit, *notes_on(kit)).kit
    before, after = dimensions_of(kit), dimensions_of(learned)
    assert after.names == before.names
    assert (after.sigmas <= before.sigmas * 1.01).all()  # by rigs drawn
    assert np.linalg.eigvalsh(after.covariance)[0] > -1e-9
    assert learned_rig(learned, None) is None


def test_that_no_other_part_was_nearer_narrows_what_is_learned() -> None:
    """Rigs drawn that agree with the notes, built anew: whichever pair is the nearest, its distance
    is the one noted to within three errors on 9 of 10, in all three poses."""
    kit = demo_kit("courtyard")
    axes, rig, known = align(kit.site.latitude_deg), build_rig(kit), dimensions_of(kit)
    spread = RigSpread(kit, rig, axes, bodies(rig, axes), known)
    notes = notes_on(kit)
    found = narrowed(spread, notes, [TONIGHT] * 3, TONIGHT)
    poses, off_m = NotedPoses.of(spread, notes), []
    for drawn in found.drawn[:, ::32].T:
        off = found.off + drawn
        gaps = poses.gaps_m(poses.shapes(np.tile(off[: len(known.names)], (3, 1))))
        off_m.append(gaps.min(axis=1) - np.array([note.gap_mm for note in notes]) / 1000.0)
    assert np.mean(np.abs(off_m).max(axis=1) < 3.0 * 0.006) > 0.9
