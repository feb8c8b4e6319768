"""What a person looks through, and the faintest star in it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from axletree.find.instruments import InstrumentKind, Look, instruments_of, limit_mag
from axletree.find.person import skill_of
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.sky.catalogue.star_counts import stars_to, times_as_many
from axletree.sky.catalogue.stars import gap_table, hipparcos_table
from axletree.sky.catalogue.stars_around import faint_table

PRACTISED = skill_of("practised")


def kit_of(text: str) -> Kit:
    kit, problems = check_text(text)
    assert kit is not None, [str(p) for p in problems]
    return kit


def test_instruments_come_weakest_first() -> None:
    found = instruments_of(demo_kit("courtyard"))
    assert [i.kind.value for i in found] == ["bare_eye", "finder", *["eyepiece"] * 3]
    power = [i.magnification for i in found]
    assert power == sorted(power)
    assert [i.eyepiece_index for i in found] == [None, None, 0, 1, 2]
    assert found[1].look is Look.UPSIDE_DOWN
    # 750 mm / 25 mm = 30 times; 52 degrees / 30.
    assert found[2].magnification == 30.0
    assert found[2].true_field_deg == pytest.approx(52 / 30)


def test_a_barlow_makes_every_eyepiece_two() -> None:
    text = demo_text("courtyard") + "\n[[barlow]]\nfactor = 2\n"
    found = instruments_of(kit_of(text))
    assert [i.magnification for i in found[2:]] == pytest.approx([30, 60, 75, 125, 150, 250])
    assert found[3].label == "25 mm with 2x Barlow"


def test_a_plain_sight_has_the_eyes_own_light_and_the_kits_rings() -> None:
    head, _, rest = demo_text("courtyard").partition("[tube.finder]\n")
    rest = rest[rest.index("[[eyepiece]]") :]
    sight = "[tube.finder]\nplain_sight = true\nrings_deg = [0.5, 2]\n"
    eye, plain, *_ = instruments_of(kit_of(head + sight + rest))
    assert plain.kind is InstrumentKind.PLAIN_SIGHT
    assert plain.rings_deg == (0.5, 2)
    assert limit_mag(plain, 20.5, 0.2, PRACTISED) == limit_mag(eye, 20.5, 0.2, PRACTISED)
    kinds = [i.kind for i in instruments_of(kit_of(head + rest))]
    assert kinds == [InstrumentKind.BARE_EYE, *[InstrumentKind.EYEPIECE] * 3]


def test_limits_are_those_of_the_trade() -> None:
    """A dark sky shows stars of 6 to the bare eye, of about 9 to 9.5 in a 6x30 finder, 2 + 5 log D
    through a telescope (common practice, no source); half a magnitude is what people differ by."""
    eye, finder, *_, strong = instruments_of(demo_kit("courtyard"))
    assert limit_mag(eye, 21.6, 0.0, PRACTISED) == pytest.approx(6.0, abs=0.5)
    assert limit_mag(finder, 21.6, 0.0, PRACTISED) == pytest.approx(9.25, abs=0.5)
    by_rule = 2 + 5 * math.log10(150)
    assert limit_mag(strong, 20.5, 0.0, PRACTISED) == pytest.approx(by_rule, abs=0.8)


def test_what_the_air_takes_and_what_a_newcomer_misses() -> None:
    _, finder, *_ = instruments_of(demo_kit("courtyard"))
    above = limit_mag(finder, 20.5, 0.0, PRACTISED)
    assert limit_mag(finder, 20.5, 0.4, PRACTISED) == pytest.approx(above - 0.4)
    # Crumey 2014: the threshold goes with F.
    missed = 2.5 * math.log10(3.6 / 2.4)
    newcomers = limit_mag(finder, 20.5, 0.0, skill_of("newcomer"))
    assert newcomers == pytest.approx(above - missed, abs=0.02)


def test_stars_are_as_many_as_the_lists_hold() -> None:
    """Hipparcos and Gaia, counted; the table of the handbook is good to 10 %."""
    tables = (
        hipparcos_table()["magnitude_v"],
        gap_table()["magnitude_v"],
        faint_table()["v"] / 1e3,
    )
    magnitudes = np.concatenate(tables)
    for limit in (5, 6, 7, 8, 9, 10):
        assert stars_to(limit) == pytest.approx(int((magnitudes <= limit).sum()), rel=0.13)


def test_times_as_many() -> None:
    """A magnitude more is about two and a half times the stars there (Seares and van Rhijn's
    counts, from memory: 870 and 324 thousand)."""
    assert times_as_many(11.0, 10.0) == pytest.approx(2.7, abs=0.2)
    assert times_as_many(13.0, 10.0) == pytest.approx(17.0, rel=0.15)
    assert times_as_many(9.0, 10.0) == 1.0
    assert stars_to(10.5) == pytest.approx(math.sqrt(stars_to(10) * stars_to(11)))
