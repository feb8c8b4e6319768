"""`point`, `room` and `objects` say the same of the same object at the same time."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path
from typing import Any

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_text

# An early evening, the middle of a night and a dawn, in Portugal and in New South Wales.
TIMES = ("2026-12-05T20:00Z", "2026-07-14T23:30Z", "2026-03-20T10:10Z", "2026-09-10T14:30Z")
KITS = ("courtyard", "paddock")
LONG = bool(os.environ.get("AXLETREE_LONG"))
# High, low, behind skylines, near both poles, across the meridian.
NAMED = ("Vega", "Polaris", "Sigma Octantis", "Antares", "Capella", "Saturn", "NGC 104", "M81")


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    main([*words, "--json"])
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def short(told: dict[str, Any]) -> Any:
    """Side and both sides' state, room to a second and what ends it."""
    sides = [
        (s["side"], s["usable"], s["ends"], None if s["room_s"] is None else round(s["room_s"]))
        for s in told["sides"]
    ]
    return told["better_side"], sides


def same(one: Any, other: Any) -> None:
    assert one[0] == other[0]
    for a, b in zip(one[1], other[1], strict=True):
        assert a[:3] == b[:3]
        assert (a[3] is None) == (b[3] is None)
        if a[3] is not None:
            assert abs(a[3] - b[3]) <= 2


@pytest.mark.parametrize(
    ("kit", "at"),
    # The kits take turns with the times; each is asked at all of them in the long run.
    [(kit, at) for turn, kit in enumerate(KITS) for at in (TIMES if LONG else TIMES[turn::2])],
)
def test_room_and_objects_say_what_point_says(
    capsys: pytest.CaptureFixture[str], kit: str, at: str
) -> None:
    where = ("--kit", kit, "--at", at)
    listed = asked(capsys, "objects", *where, "--limit", "8")["objects"]
    names = [*NAMED, *(row["name"] for row in listed)]
    shown = asked(capsys, "room", *(names), *where)["objects"]
    assert len(shown) == len(names) >= len(NAMED)
    pointed = {name: asked(capsys, "point", name, *where) for name in names}
    compared = 0
    for name, told in zip(names, shown, strict=True):
        point = pointed[name]
        assert told["better_side"] == point["better_side"]
        if "sides" not in point:  # too near to the Sun
            assert "sides" not in told
            continue
        same(short(told), short(point))
        assert told["reason"] == point["reason"]
        compared += 1
    assert compared >= 5
    for row in listed:
        assert row["better_side"] is not None
        same((row["better_side"], short(row)[1]), short(pointed[row["name"]]))
        assert row["side_reason"] == pointed[row["name"]]["reason"]


@pytest.mark.parametrize("kit", KITS)
def test_what_no_side_reaches_is_not_in_the_list(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, kit: str
) -> None:
    """A mount whose hour axis may turn an hour past level and no more leaves much of the sky."""
    text = re.sub(r"\n\[mount\.travel\]\n(\w+ *=.*\n)+", "\n", demo_text(kit))
    assert "weights_up_h" not in text
    file = tmp_path / "short.toml"
    file.write_text(text + "\n[mount.travel]\nweights_up_h = 0.0\nweights_down_h = 1.0\n")
    night = "2026-12-05T20:00Z" if kit == "courtyard" else "2026-12-05T12:30Z"
    free = asked(capsys, "objects", "--kit", kit, "--at", night, "--limit", "200")
    tied = asked(capsys, "objects", "--kit", str(file), "--at", night, "--limit", "200")
    assert 0 < tied["showing"] < free["showing"]
    assert tied["above_skyline"] == free["above_skyline"]
    gone = {r["name"] for r in free["objects"]} - {r["name"] for r in tied["objects"]}
    assert gone
    for row in tied["objects"][:5]:
        told = asked(capsys, "point", row["name"], "--kit", str(file), "--at", night)
        assert told["better_side"] == row["better_side"] is not None
    out = [n for n in [r["name"] for r in free["objects"][:40]] if n in gone][:3]
    assert out
    for name in out:
        told = asked(capsys, "point", name, "--kit", str(file), "--at", night)
        assert told["better_side"] is None
