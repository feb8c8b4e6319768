"""The eyepiece's height, the better side and tipping, against rigs drawn: other code."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm

from axletree.kit.kit import demo_kit
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.rig.eyepiece import eye_place
from axletree.mount.room.better_side import better_side
from axletree.mount.room.choice import Following, choose
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.table import HOURS_PER_SECOND, room_table
from axletree.mount.steady.steadier import child_tips_chance, stand_sigma
from axletree.mount.steady.tipping import LEANING_CHILD_N, tipping
from axletree.mount.sure.room_doubt import SkyCourse, room_doubt
from axletree.mount.sure.side_doubt import other_side_chance
from axletree.mount.sure.spread import RigSpread
from mount.rigs_drawn import draw, first_touch_h, lengths_known_to

RIGS = 400
H, D = -1.25, 16.9  # both sides of the courtyard kit can be used, and last about as long


def test_the_eyepiece_stands_as_high_as_on_rigs_drawn() -> None:
    kit = demo_kit("courtyard")
    table = room_table(kit)
    known = lengths_known_to(kit, 0.1)
    spread = replace(RigSpread.of(kit, table), known=known)
    answer = choose(kit, table, H, D).west
    sigma = spread.eye_sigma_m(answer.tube_end_h, answer.swing_deg)
    drawn = draw(kit, table.axes, known, RIGS, seed=11)
    heights = [
        float(eye_place(rig, table.axes, answer.tube_end_h, answer.swing_deg, (0, 1)).height_m)
        for rig in drawn.rigs
    ]
    assert np.mean(heights) == pytest.approx(float(answer.eye.height_m), abs=0.2 * sigma)
    assert np.std(heights) == pytest.approx(sigma, rel=0.12)  # 3 sigma of 400 rigs


def test_the_other_side_is_the_better_one_as_often_as_on_rigs_drawn() -> None:
    """The rule of the sides, asked with the rooms of rigs that are built and followed by other
    code; of 150 rigs, so within three standard deviations."""
    kit, need_h = demo_kit("courtyard"), 4.5
    table = room_table(kit)
    known = lengths_known_to(kit, 0.2)
    spread = replace(RigSpread.of(kit, table), known=known)
    choice = choose(kit, table, H, D, Following(need_h))
    course = SkyCourse(H, D, HOURS_PER_SECOND)
    doubts = [room_doubt(spread, table, side, course) for side in choice.sides]
    chance = other_side_chance(choice, (doubts[0], doubts[1]), need_h / HOURS_PER_SECOND)
    drawn = draw(kit, table.axes, known, 150, seed=12)
    rooms = []
    for side, sense in zip(choice.sides, (1, -1), strict=True):
        most = side.room_h + (3.0 if side.ends.by is CONTACT else 0.0)
        hours = np.append(np.arange(0.0, most, 0.25), most)
        touch = first_touch_h(drawn, sense, H, D, hours, limit_m=table.margin_m)
        rooms.append(np.minimum(touch, most))
    better = [
        better_side(replace(choice.east, room_h=east), replace(choice.west, room_h=west), need_h)[0]
        for east, west in zip(*(room.tolist() for room in rooms), strict=True)
    ]
    other = float(np.mean([side != choice.better for side in better]))
    assert 0.1 < chance < 0.9
    assert chance == pytest.approx(other, abs=0.12)


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_a_leaning_child_tips_as_many_rigs_drawn(name: str) -> None:
    """Dimensions drawn from their whole covariance, tipping worked out anew for each."""
    kit = demo_kit(name)
    now = tipping(kit)
    sigma, _ = stand_sigma(kit, now)
    known = dimensions_of(kit)
    rng = np.random.default_rng(13)
    values, vectors = np.linalg.eigh(known.covariance)
    root = vectors * np.sqrt(np.maximum(values, 0.0))
    off = [root @ rng.standard_normal(len(known.values)) for _ in range(60)]
    pushes = [
        tipping(with_dimensions(kit, known.values + one, known.names), tray_kg=now.tray_kg).push_n
        for one in off
    ]
    assert np.std(pushes) == pytest.approx(sigma, rel=0.35)
    chance = child_tips_chance(now.push_n, sigma)
    assert chance == pytest.approx(norm.cdf(LEANING_CHILD_N, now.push_n, sigma), abs=1e-9)
    tips = float((np.array(pushes) < LEANING_CHILD_N).mean())
    assert chance == pytest.approx(tips, abs=0.15)
