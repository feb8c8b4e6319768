"""A new kit: every remark in it that offers a key can be put to use as it stands."""

from __future__ import annotations

import re
import tomllib

import pytest

from axletree.kit.kit import Kit, check_text, demo_kit
from axletree.kit.writing.template import new_kit_text

OFFERED = re.compile(r"# (\[\[?[a-z_.]+\]\]?|[a-z_0-9]+ = .*)")
KINDS = ("newtonian", "refractor", "catadioptric")
# A second spelling of the same thing, or a file that is not there: tried one by one instead.
INSTEAD = ("place = ", "hour_geared = ", "declination_geared = ", "plain_sight = ", "rings_deg = ")
# Right only with the line beside them.
IN_PAIRS = (
    "altitude_pitch", "altitude_arm", "azimuth_pitch", "azimuth_arm", "magnification",
    "plain_sight", "rings_deg",
)  # fmt: skip


def offered(text: str) -> list[int]:
    """Numbers of the lines that offer a key or a table."""
    return [i for i, line in enumerate(text.splitlines()) if OFFERED.match(line)]


def with_lines(text: str, numbers: list[int]) -> str:
    rows = text.splitlines()
    for i in numbers:
        rows[i] = rows[i][2:]
    return "\n".join(rows)


@pytest.mark.parametrize("motion", ["hand", "motor"])
@pytest.mark.parametrize("kind", KINDS)
def test_all_that_a_new_kit_offers_is_right_together(kind: str, motion: str) -> None:
    text = new_kit_text("yard", "geo:38.57,-7.91,300", kind, 130, 650, "middle", motion)
    rows = text.splitlines()
    numbers = [i for i in offered(text) if not rows[i][2:].startswith(INSTEAD)]
    kit, problems = check_text(with_lines(text, numbers))
    assert kit is not None, [str(p) for p in problems]
    assert len(numbers) > 90
    assert kit.yard is not None
    assert kit.camera is not None
    assert kit.yard.views[0].from_azimuth_deg == 135


@pytest.mark.parametrize(
    ("optics", "label"),
    [  # as sellers and observers write a tube: common practice, no source
        (("newtonian", 114.0, 900.0), "114 mm f/7.9 Newtonian"),
        (("catadioptric", 203.0, 2032.0), "203 mm f/10 catadioptric"),
        (("refractor", 80.0, 400.0), "80 mm f/5 refractor"),
    ],
)
def test_a_tube_without_a_name_goes_by_what_it_is(
    optics: tuple[str, float, float], label: str
) -> None:
    kit, _ = check_text(new_kit_text("yard", None, *optics, "small", "motor"))
    assert kit is not None
    assert (kit.tube.label, kit.mount.label) == (label, "small motor-driven mount")
    assert demo_kit().mount.label == "hand-driven mount", "a name of its own stays"


@pytest.mark.parametrize("kind", KINDS)
def test_each_offered_key_is_right_by_itself(kind: str) -> None:
    text = new_kit_text("yard", None, kind, 130, 650, "middle", "motor")
    rows = text.splitlines()
    table = False
    for i in offered(text):
        line = rows[i][2:]
        if line.startswith("["):
            table = True
        elif rows[i - 1].startswith("[") or not rows[i - 1].strip():
            table = False
        if table or line.startswith(IN_PAIRS):
            continue
        raw = tomllib.loads(with_lines(text, [i]))
        assert raw
        if line.startswith("place = "):
            continue
        kit, problems = check_text(with_lines(text, [i]))
        assert kit is not None, (line, [str(p) for p in problems])


def test_a_new_kit_may_have_a_plain_sight_instead_of_a_finder() -> None:
    text = new_kit_text()
    rows = text.splitlines()
    sight = [i for i in offered(text) if rows[i][2:].startswith(("plain_sight", "rings_deg"))]
    assert len(sight) == 2
    kit, problems = check_text(with_lines(text, sight))
    assert kit is not None, [str(p) for p in problems]
    assert kit.tube.finder is not None
    assert kit.tube.finder.plain_sight


def test_the_newer_keys_are_mentioned() -> None:
    text = new_kit_text()
    for key in (
        "[[yard.view]]", "bubble_arcmin_per_division", "bubble_edge_divisions", "hour_geared",
        "declination_geared", "declination_knob_clockwise", "declination_arm_deg_per_turn",
        "focuser_mass_kg", "altitude_pitch_mm", "altitude_arm_mm", "azimuth_pitch_mm",
    ):  # fmt: skip
        assert key in text


def test_a_new_kit_mentions_most_of_what_a_kit_can_hold() -> None:
    text = "".join(new_kit_text(kind=kind) for kind in KINDS)
    missing = [
        name
        for name, field in Kit.model_fields["habits"].annotation.model_fields.items()  # type: ignore[union-attr]
        if (field.alias or name) not in text
    ]
    # Left to the handbook: figures that few people change.
    assert set(missing) <= {
        "minutes_per_stop", "clearance_margin_mm", "sun_distance_deg", "stop", "nudge_every_s",
        "arrive_before_dark_min",
    }  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_lines_fit_a_page(kind: str) -> None:
    text = new_kit_text("yard", "Évora", kind, 130, 650, "middle", "motor")
    assert max(map(len, text.splitlines())) <= 100
