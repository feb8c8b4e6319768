"""The places that a run sheet writes, against astropy's transformations of the same moment."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from typing import Any

import numpy as np
import pytest

from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import demo_kit
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening, evening_json, read_evening

pytest.importorskip("astropy.units")
from astropy import units as u
from astropy.coordinates import TETE, EarthLocation, SkyCoord
from astropy.time import Time

MADE = datetime(2026, 11, 25, 12, tzinfo=UTC)


pytestmark = pytest.mark.usefixtures("astropy_offline")


@pytest.fixture(scope="module", params=["courtyard", "paddock"])
def evening(request: pytest.FixtureRequest) -> Evening:
    kit = demo_kit(request.param)  # with a planet among its stops
    habits = kit.habits.model_copy(update={"must_see": ("Saturn",), "bedtime": None})
    kit = kit.model_copy(update={"habits": habits})
    return evening_document(
        plan_evening(kit, observer_of(kit.site), EveningRequest(date(2026, 10, 10), made_at=MADE))
    )


def of_date(stop: Any, evening: Evening) -> SkyCoord:
    """The written J2000.0 place, moved on by the catalogue's proper motion, at the stop's begin:
    true equator and equinox, from the site."""
    place, thing = evening.place, find(stop.catalogue_id)
    site = EarthLocation.from_geodetic(
        place.longitude_deg * u.deg, place.latitude_deg * u.deg, place.elevation_m * u.m
    )
    begin = Time(stop.begin)
    motion = np.nan_to_num(
        np.array([thing.pm_ra_cosdec_mas_yr, thing.pm_dec_mas_yr], dtype=np.float64)
    )
    written = SkyCoord(
        stop.right_ascension_j2000_h * u.hourangle, stop.declination_j2000_deg * u.deg,
        pm_ra_cosdec=motion[0] * u.mas / u.yr, pm_dec=motion[1] * u.mas / u.yr,
        obstime=Time("J2000.0"),
    )  # fmt: skip
    moved = written.apply_space_motion(new_obstime=begin)
    return SkyCoord(moved.ra, moved.dec).transform_to(TETE(obstime=begin, location=site))


def written_of_date(stop: Any) -> tuple[Any, Any]:
    return stop.right_ascension_of_date_h * u.hourangle, stop.declination_of_date_deg * u.deg


def test_both_of_date_and_both_of_j2000(evening: Evening) -> None:
    """To 2 arcseconds: the sheet's place has polar motion (0.6) and the parallax (0.8 at most)."""
    fixed = [s for s in evening.stops if s.right_ascension_j2000_h is not None]
    assert len(fixed) >= 5
    apart_deg = 0.0
    for stop in fixed:
        seen = of_date(stop, evening)
        here = SkyCoord(*written_of_date(stop), frame=seen.frame)
        assert here.separation(seen).arcsec < 2.0, stop.name
        mixed = SkyCoord(stop.right_ascension_j2000_h * u.hourangle, here.dec, frame=seen.frame)
        apart_deg = max(apart_deg, float(mixed.separation(here).deg))
    # What a pair of mixed equinoxes would be off by: 27 years of precession.
    assert apart_deg > 0.2


def test_what_moves_has_no_j2000_place(evening: Evening) -> None:
    moving = [s for s in evening.stops if s.kind in ("planet", "moon")]
    assert moving
    for stop in moving:
        assert (stop.right_ascension_j2000_h, stop.declination_j2000_deg) == (None, None)


def test_a_version_1_sheet_is_read_with_its_place_of_date(evening: Evening) -> None:
    """Version 1 as it was written: right ascension of J2000.0 beside declination of date."""
    old = json.loads(evening_json(evening))
    old["version"] = 1
    del old["order"]["empty_because"]
    for stop in old["stops"]:
        del stop["right_ascension_of_date_h"], stop["declination_j2000_deg"]
        stop["right_ascension_h"] = stop.pop("right_ascension_j2000_h")
        stop["declination_deg"] = stop.pop("declination_of_date_deg")
    read = read_evening(json.dumps(old))
    assert read.version == 3
    assert len(read.stops) == len(evening.stops) >= 5
    for then, now in zip(read.stops, evening.stops, strict=True):
        one = SkyCoord(*written_of_date(then))
        assert one.separation(SkyCoord(*written_of_date(now))).arcsec < 1.0
        gone = ("right_ascension_of_date_h", "right_ascension_j2000_h", "declination_j2000_deg")
        assert then.model_dump(exclude=set(gone)) == now.model_dump(exclude=set(gone))


@pytest.mark.parametrize(
    "broken", ['{"version": 1}', '{"version": 1, "place": 3, "stops": []}', "[1]", "{", "[" * 9000]
)
def test_what_is_no_sheet_is_refused(broken: str) -> None:
    with pytest.raises(ValueError, match="Evening"):
        read_evening(broken)
