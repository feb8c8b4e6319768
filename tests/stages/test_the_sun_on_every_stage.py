"""No stage gives a direction near the Sun while it is up; planets' elongations from the ephemeris.

Each check is made twice: with the rule, and with the rule taken out, when it has to fail.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from axletree.evening.objects.listing import ListingFilter, list_objects
from axletree.evening.objects.up import UpRequest, up
from axletree.evening.seeing.sky_brightness import sky_state
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, demo_kit
from axletree.mount.room.table import RoomTable
from axletree.sky.arrays import Floats, Mask
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.sky.positions.bodies import body_positions
from axletree.sky.sun_rule import SunReason, SunRule
from axletree.sky.time.instants import Instants
from axletree.stages.target.follow import FollowRequest, sun_refusal
from axletree.stages.target.point import PointCaution, PointRequest, point, table_of
from axletree.stages.target.room import RoomRequest, room
from axletree.stages.target.where import WhereCaution, WhereRequest, where

KIT = demo_kit("courtyard")
# Mercury stands 24 degrees from the Sun, Venus 40 or more: the ephemeris says so below.
NOON = datetime(2026, 6, 21, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def table() -> RoomTable:
    return table_of(KIT, NOON)


def elongation_deg(name: str, at: datetime) -> float:
    body = body_positions(name, Instants.from_datetime(at), observer_of(KIT.site))
    return float(body.elongation_deg[0, 0])


def sunrise(kit: Kit) -> datetime:
    """The minute in which the Sun's centre passes -50 minutes of arc upwards, in June."""
    minutes = [datetime(2026, 6, 21, 4, tzinfo=UTC) + timedelta(minutes=k) for k in range(180)]
    sun = body_positions("sun", Instants.from_datetimes(minutes), observer_of(kit.site))
    return minutes[int(np.argmax(sun.altitude_true_deg[0] > -50 / 60))]


def pointed(table: RoomTable) -> None:
    found = point(KIT, PointRequest("Mercury", NOON, table=table))
    assert found.choice is None
    assert found.place is None
    assert found.refusal is not None
    assert found.refusal.reason is SunReason.UP
    assert found.refusal.separation_deg == pytest.approx(elongation_deg("mercury", NOON), abs=0.05)


def followed(table: RoomTable) -> None:
    """Which way to turn a knob after something is a direction, too."""
    refusal = sun_refusal(KIT, FollowRequest(find("Mercury"), NOON))
    assert refusal is not None
    assert refusal.separation_deg == pytest.approx(elongation_deg("mercury", NOON), abs=0.05)
    assert sun_refusal(KIT, FollowRequest(find("Venus"), NOON)) is None


def marked(table: RoomTable) -> None:
    mercury, venus = room(KIT, RoomRequest(NOON, ("Mercury", "Venus"), table=table)).objects
    assert mercury.choice is None
    assert venus.choice is not None


def suggested(_: RoomTable) -> None:
    names = [row.thing.name for row in up(KIT, UpRequest(NOON, most=99)).objects]
    # Castor, 22 degrees from the Sun's place at the solstice (6h, +23.4).
    assert "Venus" in names
    assert "Castor" not in names


def listed(_: RoomTable) -> None:
    observer, now = observer_of(KIT.site), Instants.from_datetime(NOON)
    found = list_objects(
        KIT, observer, now, sky_state(KIT, observer, now), lambda azimuth: azimuth * 0.0,
        ListingFilter(kinds=frozenset(["planet"]), everything=True),
    )  # fmt: skip
    names = [row.target.name for row in found.rows]
    assert "Venus" in names
    assert "Mercury" not in names


def placed(_: RoomTable) -> None:
    assert where(KIT, WhereRequest(find("Mercury"), NOON)).cautions == (WhereCaution.NEAR_THE_SUN,)


CHECKS = [pointed, followed, marked, suggested, listed, placed]


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.__name__)
def test_nothing_near_the_sun_by_day(check: Callable[[RoomTable], None], table: RoomTable) -> None:
    assert elongation_deg("mercury", NOON) < 30.0 < elongation_deg("venus", NOON)
    check(table)


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.__name__)
def test_every_check_fails_without_the_rule(
    check: Callable[[RoomTable], None], table: RoomTable, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(self: SunRule, separation_deg: Floats) -> Mask:
        return np.zeros(separation_deg.shape, dtype=bool)

    monkeypatch.setattr(SunRule, "_too_near", never)
    with pytest.raises(AssertionError):
        check(table)


def test_a_stop_that_would_end_in_the_sunrise_is_refused(table: RoomTable) -> None:
    """Half an hour and ten minutes before the Sun's first edge, and not a minute sooner."""
    rises = sunrise(KIT)

    def reason(before_min: float) -> SunReason | None:
        at = rises - timedelta(minutes=before_min)
        # 'table' serves: what stands in the sky's way is not what is asked here.
        found = point(KIT, PointRequest("Mercury", at, minutes=30.0, table=table))
        return None if found.refusal is None else found.refusal.reason

    assert reason(42) is None
    assert reason(38) is SunReason.RISES_BEFORE_THE_END
    assert reason(2) is SunReason.RISES_BEFORE_THE_END
    assert reason(-2) is SunReason.UP


def test_the_sun_itself_with_both_filters(table: RoomTable) -> None:
    finder = KIT.tube.finder
    assert finder is not None
    tube = KIT.tube.model_copy(
        update={"solar_filter": True, "finder": finder.model_copy(update={"solar_filter": True})}
    )
    kit = KIT.model_copy(update={"tube": tube})
    found = point(kit, PointRequest("Sun", NOON, table=table))
    assert found.choice is not None
    assert found.cautions[0] is PointCaution.FILTERS_ON
    assert point(KIT, PointRequest("Sun", NOON, table=table)).choice is None
    # By day another object far from the Sun: caps until the tube points at it.
    venus = point(kit, PointRequest("Venus", NOON, table=table))
    assert venus.cautions[0] is PointCaution.CAPS_BY_DAY


@pytest.mark.parametrize("minutes", [0.0, -5.0, 1441.0, float("nan")])
def test_stays_that_are_no_time_are_refused(minutes: float) -> None:
    with pytest.raises(AxletreeError, match="from 1 to 1440"):
        point(KIT, PointRequest("Vega", NOON, minutes=minutes))
