"""How long light is on its way, against published figures."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from axletree.kit.kit import check_text, demo_text
from axletree.sky.observer import observer_of
from axletree.sky.positions.ephemeris import LIGHT_AU_PER_DAY
from axletree.sky.positions.light_time import light_time_s
from axletree.sky.time.instants import Instants


def light(body: str, moment: datetime) -> float:
    kit, _ = check_text(demo_text("courtyard"))
    assert kit is not None
    return light_time_s(body, Instants.from_datetime(moment), observer_of(kit.site))


def test_light_time_for_the_astronomical_unit() -> None:
    """499.004784 s: G. Petit and B. Luzum, IERS Conventions 2010, table 1.1 (tau_A, rounded)."""
    assert pytest.approx(499.004784, abs=1e-5) == 86400.0 / LIGHT_AU_PER_DAY


def test_the_sun_at_perihelion_and_aphelion() -> None:
    """0.98330 and 1.01664 au in January and July 2026 (from memory: the almanacs' 0.9833, 1.0167);
    the observer's parallax is 0.00004 au."""
    assert light("sun", datetime(2026, 1, 3, 17, tzinfo=UTC)) == pytest.approx(490.7, abs=0.2)
    assert light("sun", datetime(2026, 7, 6, 17, tzinfo=UTC)) == pytest.approx(507.3, abs=0.2)


def test_the_moon_is_a_second_and_a_third_away() -> None:
    """356,400 to 406,700 km from centre to centre (J. Meeus, Mathematical Astronomy Morsels,
    1997, ch. 4), less the Earth's radius of 6,378 km at most."""
    for day in range(1, 28, 3):
        seen = light("moon", datetime(2026, 12, day, 20, tzinfo=UTC))
        assert (356_400 - 6_378) / 299_792.458 < seen < 406_700 / 299_792.458 + 0.03
