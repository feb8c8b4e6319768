"""What was hardly meant is noticed once, and nothing where all is right.

Places, coordinates and clocks of towns are those of any atlas; lengths and powers by hand.
"""

from __future__ import annotations

import math

import pytest

from axletree.kit.kit import demo_text
from axletree.kit.place.near import distance_km, is_far_inland, is_sea, nearest_place_km
from axletree.stages.kit.kit_check import KitCheckRequest, kit_check
from axletree.stages.kit.slips import KitSlip, KitSlipKind
from axletree.tell.kit.data import kit_check_data
from axletree.tell.kit.slips_text import slip_words
from axletree.tell.kit.text import kit_check_text

COURTYARD, PADDOCK = demo_text("courtyard"), demo_text("paddock")
ZONE = 'time_zone = "Europe/Lisbon"'
EAST = "longitude_deg = -7.9093"


def slips(text: str, *changes: tuple[str, str]) -> list[KitSlip]:
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    answer = kit_check(KitCheckRequest(text))
    assert answer.kit is not None, [str(p) for p in answer.problems]
    return list(answer.slips)


@pytest.mark.parametrize("text", [COURTYARD, PADDOCK])
def test_nothing_is_said_of_kits_that_are_right(text: str) -> None:
    assert slips(text) == []


VIENNA = [
    ("latitude_deg = 38.5712", "latitude_deg = 48.2"), (EAST, "longitude_deg = 16.37"),
    (ZONE, 'time_zone = "Europe/Vienna"'), ("elevation_m = 292", "elevation_m = 0"),
]  # fmt: skip

CASES = [
    # Évora lies west of Greenwich, Tekapo south of the equator: mirrored both lie at sea.
    (KitSlipKind.LONGITUDE_SIGN, "site.longitude_deg", [(EAST, "longitude_deg = 7.9093")]),
    (KitSlipKind.LONGITUDE_SIGN, "site.longitude_deg",
     [(EAST, "longitude_deg = 7.9093"), (ZONE, "")]),
    (KitSlipKind.TIME_ZONE, "site.time_zone", [("Europe/Lisbon", "Europe/Berlin")]),
    (KitSlipKind.AT_SEA, "site.longitude_deg",
     [("latitude_deg = 38.5712", "latitude_deg = 40"), (EAST, "longitude_deg = -40"), (ZONE, "")]),
    (KitSlipKind.FAR_FROM_NAME, "site.name",
     [('"School courtyard near Évora"', '"Vienna"')]),
    # Vienna lies 170 m above the sea and over 300 km from it.
    (KitSlipKind.ELEVATION_ZERO, "site.elevation_m", VIENNA),
    (KitSlipKind.SHORT_TUBE, "tube.length_mm", [("length_mm = 700", "length_mm = 140")]),
    (KitSlipKind.CENTIMETRES, "tube.length_mm", [("length_mm = 700", "length_mm = 70")]),
    (KitSlipKind.CENTIMETRES, "mount.tripod.top_height_mm",
     [("top_height_mm = 780", "top_height_mm = 78")]),
    # 750 / 2 is 375; twice 150 mm is 300.
    (KitSlipKind.TOO_STRONG, "eyepiece[3].focal_length_mm",
     [("focal_length_mm = 6\n", "focal_length_mm = 2\n")]),
    # Declination -52.7 degrees, at 38.6 north: 1.3 degrees below the south point.
    (KitSlipKind.NEVER_UP, "habits.must_see",
     [("[habits]", '[habits]\nmust_see = ["M31", "Canopus"]')]),
    (KitSlipKind.OVERLOADED, "mount.payload_limit_kg",
     [("payload_limit_kg = 9", "payload_limit_kg = 5")]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "key", "changes"), CASES, ids=[f"{i} {c[0].value}" for i, c in enumerate(CASES)]
)
def test_each_slip_is_noticed_once_and_told_in_one_line(
    kind: KitSlipKind, key: str, changes: list[tuple[str, str]]
) -> None:
    (slip,) = slips(COURTYARD, *changes)
    assert (slip.kind, slip.key) == (kind, key)
    words = slip_words(slip)
    assert "\n" not in words
    assert any(c.isdigit() for c in words) or kind is KitSlipKind.NEVER_UP


def test_the_wrong_hemisphere_is_noticed() -> None:
    (slip,) = slips(PADDOCK, ("latitude_deg = -", "latitude_deg = "))
    assert (slip.kind, slip.likely) == (KitSlipKind.LATITUDE_SIGN, -44.021)


def test_every_kind_is_tried_here() -> None:
    assert {kind for kind, _, _ in CASES} | {KitSlipKind.LATITUDE_SIGN} == set(KitSlipKind)


@pytest.mark.parametrize(
    "changes",
    [
        [("Europe/Lisbon", "UTC")],  # whoever keeps universal time
        [("elevation_m = 292", "elevation_m = 0")],  # Évora lies within 150 km of the sea
        [("[habits]", '[habits]\nmust_see = ["M31", "Jupiter", "my own comet"]')],
        [("focal_length_mm = 6\n", "focal_length_mm = 2.5\n")],  # 300 times: just borne
        [("length_mm = 700", "length_mm = 400")],
    ],
)
def test_what_may_be_meant_is_let_be(changes: list[tuple[str, str]]) -> None:
    assert slips(COURTYARD, *changes) == []


def test_a_catadioptric_tube_is_short_by_its_kind() -> None:
    """f/13 and 2.1 apertures long: 0.16 of its focal length."""
    changes = [
        ('kind = "newtonian"', 'kind = "catadioptric"'),
        ("focal_length_mm = 750", "focal_length_mm = 1950"),
        ("length_mm = 700", "length_mm = 315"),
    ]
    found = slips(COURTYARD, *changes, ("focal_length_mm = 6\n", "focal_length_mm = 8\n"))
    assert KitSlipKind.SHORT_TUBE not in {slip.kind for slip in found}


def test_slips_stand_in_text_and_json() -> None:
    answer = kit_check(KitCheckRequest(COURTYARD.replace("length_mm = 700", "length_mm = 70")))
    assert "Look again: tube.length_mm: 70 mm looks like centimetres" in kit_check_text(answer, "x")
    (row,) = kit_check_data(answer, "x")["slips"]
    assert (row["kind"], row["given"], row["likely"]) == ("centimetres", 70.0, 700.0)
    assert kit_check_data(answer, "x")["right"], "a slip refuses nothing"


def test_distances_of_an_atlas() -> None:
    """Lisbon to Vienna: about 2,300 km by any atlas; a degree of the equator is 111.2 km."""
    assert distance_km(38.72, -9.14, (48.21, 16.37)) == pytest.approx(2300, rel=0.01)
    assert distance_km(0, 0, (0, 1)) == pytest.approx(2 * math.pi * 6371 / 360)
    assert nearest_place_km(48.21, 16.37) < 5
    assert nearest_place_km(40.0, -40.0) > 700  # the Azores are nearest
    assert is_sea(40.0, -40.0)
    assert not is_sea(48.21, 16.37)
    assert is_far_inland(48.21, 16.37, 150)
    assert not is_far_inland(38.72, -9.14, 150)
