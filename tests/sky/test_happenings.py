"""What happens on a body: the same as its rooms say, in one form."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.happenings.ask import happenings, turns_between
from axletree.sky.happenings.kinds import MEETS, Border, HappeningKind, Mover, TurnKind
from axletree.sky.lunar.features import moon_features
from axletree.sky.lunar.light import HIGHEST_SUN_DEG, LOWEST_SUN_DEG, sun_heights_deg
from axletree.sky.lunar.nodding import moon_face
from axletree.sky.moons.phenomena import Contact, moon_phenomena
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

SPOT = Observer(44.0, -80.0, 200.0)
ZONE = "America/Toronto"
START = datetime(2026, 12, 5, 22, tzinfo=ZoneInfo(ZONE))


def test_jupiter() -> None:
    stop = START + timedelta(days=3)
    told = happenings("jupiter", START, stop, SPOT, ZONE)
    plain = moon_phenomena("jupiter", START, stop)
    assert len(told) > 8
    assert len(told) <= len(plain)
    assert {h.kind for h in told} == set(HappeningKind) - {HappeningKind.FEATURE_IN_LIGHT}
    for h in told:
        assert h.begin is not None
        assert h.end is not None
        assert h.begin.time <= h.end.time
        assert h.begin.time.utcoffset() == timedelta(hours=-5)
        same = [p for p in plain if p.moon == h.actor and p.contacts[0].time == h.turns[0].time]
        assert [TurnKind(c.contact.value) for c in same[0].contacts] == [t.kind for t in h.turns]
    # An eclipse that ends behind the disc has its end where it is last seen: going in.
    dark = [h for h in told if h.kind is HappeningKind.MOON_IN_SHADOW and h.actor == "io"]
    assert dark
    assert dark[0].end is dark[0].turn(TurnKind.LAST_EDGE_IN)
    assert dark[0].meets == (Mover.MOON, Border.SHADOW_OF_PLANET)
    assert {c.value for c in Contact} < {t.value for t in TurnKind}
    assert set(MEETS) == set(HappeningKind)


def test_the_moon() -> None:
    start = datetime(2026, 8, 21, 1, tzinfo=UTC)
    stop = start + timedelta(hours=30)
    told = happenings("moon", start, stop, SPOT)
    assert len(told) > 20
    names = [f.name for f in moon_features()]
    turns = [(h.actor, t) for h in told for t in h.turns]
    assert len(turns) > 20
    for actor, turn in turns:
        assert start <= turn.time <= stop
        face = moon_face(Instants.from_datetime(turn.time), SPOT)
        height = sun_heights_deg(face)[0, names.index(actor)]
        level = {TurnKind.SUN_AT_LOWEST: LOWEST_SUN_DEG, TurnKind.SUN_AT_HIGHEST: HIGHEST_SUN_DEG}
        assert height == pytest.approx(level[turn.kind], abs=1e-3)
        # The waxing Moon's Sun climbs; a place known to half a degree makes an hour or two.
        known = next(f for f in moon_features() if f.name == actor)
        assert (turn.doubt_s > 3000.0) == (known.error_deg == 0.5)
    assert "Mare Imbrium" not in [h.actor for h in told]


def test_moments_in_the_order_of_time() -> None:
    stop = START + timedelta(days=2)
    told = happenings("jupiter", START, stop, SPOT, ZONE)
    moments = turns_between(told, START, stop)
    times = [turn.time for _, turn in moments]
    assert len(times) > 20
    assert times == sorted(times)
    assert START <= times[0] <= times[-1] <= stop
    assert all(turn in one.turns and turn.seen for one, turn in moments)
    # Moons pass before, behind and through the shadow side by side: their moments interleave.
    assert [h.actor for h, _ in moments] != [h.actor for h in told for _ in h.turns]
    hidden = [t for h in told for t in h.turns if not t.seen]
    assert hidden
    one = moments[5][1].time
    assert {t.time for _, t in turns_between(told, one, one)} == {one}


@pytest.mark.parametrize("body", ["moon", "jupiter"])
def test_a_stop_before_the_start_is_refused(body: str) -> None:
    with pytest.raises(AxletreeError, match="before the start"):
        happenings(body, START, START - timedelta(hours=1), SPOT)
    assert isinstance(happenings(body, START, START, SPOT), tuple)


def test_others() -> None:
    assert happenings("venus", START, START + timedelta(hours=5), SPOT) == ()
    none = happenings("saturn", START, START + timedelta(days=20), SPOT)
    assert none == ()  # Titan passes wide of Saturn from 2026 on
