"""How well, on what and from how far away is a finder set?"""

from __future__ import annotations

import math
from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.evening.ground_here import ground_of
from axletree.find.instruments import InstrumentKind
from axletree.find.practice.finder_match import FinderMatch, far_m, finder_match, shows_at_dusk_mag
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants


def match(kit: Kit, at: datetime) -> FinderMatch | None:
    observer = observer_of(kit.site)
    return finder_match(
        kit, observer, ground_of(kit, observer, at).table, Instants.from_datetime(at)
    )


DUSK = datetime(2026, 12, 5, 17, 46, tzinfo=UTC)


def test_by_hand() -> None:
    # By hand: a 25 mm eyepiece of 52 degrees at 750 mm shows 52 / 30 = 1.733 degrees, half 0.867; a
    # twentieth of the 3.5 degrees to the edge of a 7 degree finder is 0.175.
    kit = demo_kit("courtyard")
    found = match(kit, DUSK)
    assert found is not None
    assert found.kind is InstrumentKind.FINDER
    half = 0.5 * kit.eyepieces[0].apparent_field_deg / (
        kit.tube.focal_length_mm / max(e.focal_length_mm for e in kit.eyepieces)
    )  # fmt: skip
    part = {"newcomer": 0.10, "practised": 0.05, "expert": 0.04}[kit.habits.observer]
    assert found.within_deg == pytest.approx(half - part * 3.5, abs=0.02)
    assert found.in_finder == pytest.approx(found.within_deg / 7.0)
    # Seen from `far_m`, the distance between both axes is a tenth of what they may differ by.
    seen_deg = math.degrees(math.atan(found.offset_mm / 1000.0 / found.far_m))
    assert seen_deg == pytest.approx(found.within_deg / 10.0)
    # 100 mm seen under a minute of arc: 3438 times as far (a radian holds 3438 minutes).
    assert far_m(100.0, 10.0 / 60.0) == pytest.approx(343.8, abs=0.1)


def test_a_bright_thing_stands_where_astropy_puts_it() -> None:
    from astropy import units as u
    from astropy.coordinates import AltAz, EarthLocation, SkyCoord
    from astropy.time import Time
    from astropy.utils import iers

    iers.conf.auto_download = False
    iers.conf.auto_max_age = None
    kit = demo_kit("courtyard")
    found = match(kit, DUSK)
    assert found is not None
    assert found.bright is not None
    assert not found.daylight
    assert not found.sun_up
    assert found.bright.names[0] == "Vega"
    where = EarthLocation(lat=kit.site.latitude_deg * u.deg, lon=kit.site.longitude_deg * u.deg)
    vega = SkyCoord(279.2347 * u.deg, 38.7837 * u.deg)  # Hipparcos, J2000
    seen = vega.transform_to(AltAz(obstime=Time(DUSK), location=where))
    assert found.bright.altitude_deg == pytest.approx(seen.alt.deg, abs=0.1)
    assert found.bright.azimuth_deg == pytest.approx(seen.az.deg, abs=0.1)


def test_by_day_it_is_a_far_thing_and_never_near_the_sun() -> None:
    kit = demo_kit("courtyard")
    noon = match(kit, datetime(2026, 12, 5, 12, 30, tzinfo=UTC))
    assert noon is not None
    assert noon.daylight
    assert noon.sun_up
    assert noon.bright is None  # no star shows at noon
    assert noon.sun_distance_deg == kit.habits.sun_distance_deg
    # Whatever is named while the Sun is up keeps away from it: all evenings of a year at sunset.
    from axletree.sky.directions import separation_deg
    from axletree.sky.positions.bodies import body_positions

    observer, named = observer_of(kit.site), 0
    for month in range(1, 13):
        for minute in (0, 40):
            at = datetime(2026, month, 5, 17 + (4 <= month <= 9) * 2, minute, tzinfo=UTC)
            now = Instants.from_datetime(at)
            found = match(kit, at)
            assert found is not None
            if found.bright is None:
                continue
            named += 1
            assert 0.0 < found.bright.altitude_deg <= 70.0
            sun = body_positions("sun", now, observer)
            apart = separation_deg(
                found.bright.azimuth_deg, found.bright.altitude_deg, sun.azimuth_deg[0, 0],
                sun.altitude_deg[0, 0],
            )  # fmt: skip
            assert not found.sun_up or float(apart) > found.sun_distance_deg
    assert named > 5


def test_more_shows_as_the_sun_sinks() -> None:
    # Common practice, no source: the first magnitude at the end of civil dusk.
    assert shows_at_dusk_mag(6.0) == 1.0
    assert list(np.diff([shows_at_dusk_mag(d) for d in (-0.8, 3.0, 6.0, 8.0)]) > 0) == [True] * 3
    assert shows_at_dusk_mag(-0.8) < -1.5  # Venus and Jupiter alone at sunset


def test_a_plain_sight_has_its_rings_and_a_tube_without_finder_nothing() -> None:
    text = demo_text("courtyard")
    begin = text.index("aperture_mm = 30")
    end = text.index("[[eyepiece]]")
    plain, problems = check_text(
        text[:begin] + "plain_sight = true\nrings_deg = [0.5, 2]\n" + text[end:]
    )
    assert plain is not None, problems
    found = match(plain, DUSK)
    assert found is not None
    assert found.kind is InstrumentKind.PLAIN_SIGHT
    assert found.in_finder == pytest.approx(found.within_deg / 0.5)
    none = plain.model_copy(update={"tube": plain.tube.model_copy(update={"finder": None})})
    assert match(none, DUSK) is None
