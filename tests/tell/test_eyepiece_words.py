"""How Moon, planets and pairs are told: sides as the eyepiece turns them, times with errors."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from axletree.find.at_eyepiece.answer import (
    BesidePlanet,
    MoonBeside,
    PairAtEyepiece,
    PlanetAtEyepiece,
    RingsShown,
)
from axletree.sky.discs.look import SkySide
from axletree.sky.discs.rings import RingFace
from axletree.sky.happenings.kinds import Happening, HappeningKind, Turn, TurnKind
from axletree.tell.eyepiece.data import eyepiece_data
from axletree.tell.eyepiece.text import body_short, body_words
from axletree.tell.eyepiece.way_text import EyeTurn, dial_words, side_words

AT = datetime(2026, 12, 19, 20, 30, tzinfo=UTC)
ZONE = ZoneInfo("UTC")
# North up: a plain picture, one with a diagonal, and one that a Newtonian turned half round.
PLAIN, MIRRORED, TURNED = EyeTurn(0.0, False), EyeTurn(0.0, True), EyeTurn(180.0, False)


def moon(name: str, west: float, state: BesidePlanet = BesidePlanet.BESIDE) -> MoonBeside:
    angle = 270.0 if west > 0 else 90.0
    return MoonBeside(name, state, angle, abs(west) * 22.0, 0.2, west, 0.0, 1.2, 5.3, None)


def planet(body: str, **others: object) -> PlanetAtEyepiece:
    given: dict[str, object] = {
        "at": AT, "until": AT + timedelta(hours=1), "diameter_arcsec": 44.0,
        "polar_diameter_arcsec": 41.2, "phase_angle_deg": 5.0, "lit_fraction": 0.998,
        "bright_limb_deg": 90.0, "axis_deg": 0.0, "elongation_deg": 120.0, "side": SkySide.WEST,
        "magnitude_v": -2.4,
    }  # fmt: skip
    return PlanetAtEyepiece(body=body, **{**given, **others})  # type: ignore[arg-type]


def shadow_leaves(minutes: float, doubt_s: float) -> Happening:
    times = (AT - timedelta(hours=1), AT + timedelta(minutes=minutes))
    turns = (
        Turn(TurnKind.MIDDLE_IN, times[0], doubt_s),
        Turn(TurnKind.MIDDLE_OUT, times[1], doubt_s),
    )
    return Happening("jupiter", HappeningKind.SHADOW_ON_DISC, "io", turns)


FOUR = (
    moon("io", -3.0), moon("europa", 5.0), moon("ganymede", 9.0),
    moon("callisto", 0.5, BesidePlanet.BEHIND_DISC),
)  # fmt: skip


def test_left_and_right_are_the_eyepieces() -> None:
    """West of the planet is on the right with north up, on the left in a diagonal or turned."""
    jupiter = planet("jupiter", moons=FOUR)
    assert body_short(jupiter, PLAIN, 100.0, ZONE).startswith("one moon left, two right;")
    assert body_short(jupiter, MIRRORED, 100.0, ZONE).startswith("two moons left, one right;")
    assert body_short(jupiter, TURNED, 100.0, ZONE).startswith("two moons left, one right;")
    assert body_short(jupiter, None, None, ZONE).startswith("one moon east, two west;")
    assert "Callisto behind the disc" in body_short(jupiter, PLAIN, 100.0, ZONE)
    assert side_words(90.0, EyeTurn(90.0, False)) == "above"
    assert dial_words(90.0, MIRRORED) == "at 3 on the dial"
    assert dial_words(90.0, PLAIN) == "at 9 on the dial"


@pytest.mark.parametrize(("doubt_s", "error"), [(7.0, "1 min"), (89.0, "1 min"), (130.0, "2 min")])
def test_a_moment_is_told_with_its_error(doubt_s: float, error: str) -> None:
    jupiter = planet("jupiter", moons=FOUR, happenings=(shadow_leaves(44.0, doubt_s),))
    short = body_short(jupiter, PLAIN, 100.0, ZONE)
    assert short.endswith(
        f"Io's shadow on the disc: since 19:30 ± {error}, leaves at 21:14 ± {error}"
    )


def test_rings_phases_and_points() -> None:
    rings = RingsShown(-6.1, -5.0, RingFace.SOUTH_LIT, 43.0, 28.9, 37.7, 0.106)
    saturn = planet("saturn", rings=rings, diameter_arcsec=18.9)
    assert (
        body_short(saturn, PLAIN, 100.0, ZONE)
        == "rings narrow, tilted 6.1°; their south face is seen"
    )
    crescent = planet("venus", lit_fraction=0.22, bright_limb_deg=270.0, elongation_deg=30.0)
    words = body_words(crescent, PLAIN, 50.0, ZONE)
    assert words[0] == "A crescent, 22 % lit, bright side right, 44.0″ across."
    assert words[1] == "30.0° ± 0.05° west of the Sun."
    neptune = planet("neptune", diameter_arcsec=2.3)
    assert body_words(neptune, PLAIN, 75.0, ZONE) == ["A steady blue-grey point, 2.3″ across."]
    assert "tiny blue-grey disc" in body_words(neptune, PLAIN, 200.0, ZONE)[0]


def test_pairs_by_the_dial_and_everything_as_data() -> None:
    pair = PairAtEyepiece(AT, 34.6, 54.0, 2016.0, 3.05, 5.12)
    assert body_short(pair, PLAIN, 30.0, ZONE) == (
        "35″ apart, 3.0 and 5.1 mag, the fainter star at 10 on the dial"
    )
    told = eyepiece_data(pair, PLAIN, 30.0, ZONE)
    assert told is not None
    assert told["kind"] == "pair"
    assert told["pair"] is not None
    assert told["pair"]["position_angle_deg"] == 54.0
    jupiter = planet("jupiter", moons=FOUR, happenings=(shadow_leaves(44.0, 7.0),))
    data = eyepiece_data(jupiter, PLAIN, 30.0, ZONE)
    assert data is not None
    assert [m["state"] for m in data["moons"]] == ["beside"] * 3 + ["behind_disc"]
    [one] = data["happenings"]
    assert (one["mover"], one["border"]) == ("shadow_of_moon", "disc_of_planet")
    assert [t["kind"] for t in one["turns"]] == ["middle_in", "middle_out"]
    assert eyepiece_data(None, PLAIN, 30.0, ZONE) is None


def test_a_moon_whose_passage_is_told_is_not_counted_once_more() -> None:
    """Io before the disc stands once in the line, with its times; Europa, of which none is told,
    keeps its place in the count."""
    times = (AT - timedelta(hours=1), AT + timedelta(minutes=20))
    turns = (Turn(TurnKind.MIDDLE_IN, times[0], 9.0), Turn(TurnKind.MIDDLE_OUT, times[1], 9.0))
    passage = Happening("jupiter", HappeningKind.MOON_BEFORE_DISC, "io", turns)
    moons = (moon("io", 0.4, BesidePlanet.BEFORE_DISC), moon("europa", 0.2, BesidePlanet.IN_SHADOW))
    short = body_short(planet("jupiter", moons=moons, happenings=(passage,)), PLAIN, 100.0, ZONE)
    assert short.count("Io") == 1
    assert "Io before the disc: since 19:30 ± 1 min, leaves at 20:50 ± 1 min" in short
    assert "Europa in the shadow" in short
    whole = body_words(planet("jupiter", moons=moons, happenings=(passage,)), PLAIN, 100.0, ZONE)
    assert len([row for row in whole if "Io" in row]) == 1
    without = body_short(planet("jupiter", moons=moons), PLAIN, 100.0, ZONE)
    assert "Io before the disc" in without


@pytest.mark.parametrize(
    ("tilt_deg", "face", "words"),
    [
        (0.03, RingFace.SOUTH_DARK, "rings edge-on, a line like a hair if they show at all"),
        (2.0, RingFace.SOUTH_DARK, "nearly edge-on, like a needle through the globe, tilted 2.0°"),
        (-26.0, RingFace.SOUTH_LIT, "rings wide open, tilted 26.0°; their south face is seen"),
    ],
)
def test_rings_are_told_as_they_look(tilt_deg: float, face: RingFace, words: str) -> None:
    rings = RingsShown(tilt_deg, tilt_deg, face, 44.0, 29.0, 39.0, 0.1)
    short = body_short(planet("saturn", rings=rings), PLAIN, 100.0, ZONE)
    assert words in short
    dark = face in (RingFace.SOUTH_DARK, RingFace.NORTH_DARK) and abs(tilt_deg) > 0.5
    assert ("hardly show" in short) is dark
