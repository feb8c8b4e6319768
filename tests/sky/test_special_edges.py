"""Special nights at the ends of the Earth and of the years: finite, in order, or refused."""

from __future__ import annotations

import math
from datetime import date

import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import BeyondEphemerisError
from axletree.sky.special.ask import Wishes, special_nights
from axletree.sky.special.kinds import SpecialKind
from axletree.sky.special.showers import NightSky

WISHES = Wishes(sky=NightSky(21.5, 0.2))


@pytest.mark.parametrize("latitude_deg", [78.0, 0.0, -34.0, -90.0])
@pytest.mark.parametrize("year", [2020, 2049])
def test_every_figure_is_finite_and_every_moment_belongs_to_its_night(
    latitude_deg: float, year: int
) -> None:
    first, last = date(year, 1, 1), date(year, 12, 31)
    nights = special_nights(Observer(latitude_deg, 100.0), first, last, "Asia/Jakarta", WISHES)
    assert len(nights) > 20
    assert [n.greatest.time for n in nights] == sorted(n.greatest.time for n in nights)
    for night in nights:
        assert first <= night.day <= last
        assert night.greatest in night.moments
        assert all(math.isfinite(f.value) and f.error >= 0.0 for f in night.figures)
        assert all(math.isfinite(m.altitude_deg) and m.doubt_s > 0.0 for m in night.moments)
        times = [m.time for m in night.moments]
        assert times == sorted(times)
        if night.kind in (SpecialKind.MEETING, SpecialKind.OCCULTATION):
            assert any(m.seen and m.altitude_deg > 0.0 for m in night.moments)


def test_dates_that_nobody_knows_and_wishes_without_sense_are_refused() -> None:
    here = Observer(0.0, 100.0)
    with pytest.raises(BeyondEphemerisError):
        special_nights(here, date(2019, 1, 1), date(2019, 2, 1), "UTC")
    with pytest.raises(AxletreeError, match="lies before the first"):
        special_nights(here, date(2026, 2, 1), date(2026, 1, 1), "UTC")
    with pytest.raises(AxletreeError, match="field_deg"):
        Wishes(field_deg=0.0)


def test_a_star_that_the_moon_hides_is_not_told_to_stand_beside_it_as_well() -> None:
    """Regulus in the night of 2 February 2026 in Portugal (found by skyfield's places in
    tests/outside); 29 March, when the Moon passes beside it, is a meeting."""
    evora = Observer(38.5712, -7.9093, 292.0)
    nights = special_nights(evora, date(2026, 2, 1), date(2026, 3, 31), "Europe/Lisbon")
    regulus = [(n.kind, n.day) for n in nights if n.bodies == ("moon", "Regulus")]
    assert regulus == [
        (SpecialKind.OCCULTATION, date(2026, 2, 2)),
        (SpecialKind.MEETING, date(2026, 3, 29)),
    ]
