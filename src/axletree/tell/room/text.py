"""How is the room of both tube sides told, without a drawing?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from axletree.kit.kit import Kit
from axletree.mount.room.choice import Choice
from axletree.mount.room.ends import End
from axletree.mount.room.reach import Stretch
from axletree.tell.point.text import guessed_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import degrees, hours_minutes, length
from axletree.tell.side.text import end_words, side_reason_words


def room_text(
    kit: Kit, share: Mapping[str, float], rows: Sequence[Stretch],
    objects: Sequence[Mapping[str, Any]] = (), notes: Sequence[str] = (),
) -> str:  # fmt: skip
    """Shares of the sky, then by declination from where to where each side can follow.

    `objects` are named ones as `object_data` tells them; `notes` say what else was assumed, such
    as an unknown part of the skyline.
    """
    part = {k: f"{v * 100:.0f} %" for k, v in share.items()}
    head = (
        f"Side east reaches {part['east']} of the open sky, side west {part['west']}, one or the "
        f"other {part['either']}; {part['weights_down']} with the weights below the tube."
    )
    margin = length(kit.habits.clearance_margin_mm, kit.habits.units)
    assumed = [
        f"open sky: above the skyline and {kit.habits.lowest_altitude_deg:g}°; parts keep "
        f"{margin} apart",
        *guessed_words(kit),
        *notes,
    ]
    return sections(
        paragraph(head),
        listed("The objects that you named:", [_named(o) for o in objects]),
        _table(rows),
        listed("Why the stretches end in contact:", _contacts(rows)),
        listed("Assumed:", assumed),
        listed(
            "Cautions:",
            [
                "East of the meridian on side east, and west of it on side west, the weights "
                "are above the tube: hold the shaft while a lock is open.",
                "Look at tripod, cables and people before every turn.",
            ],
        ),
    )


def sides_data(choice: Choice) -> list[dict[str, Any]]:
    """Both tube sides in short: can it be used, for how long (null: all night), what ends it."""
    return [
        {
            "side": side.side,
            "usable": side.usable,
            "room_s": None if side.endless else round(side.room_s, 1),
            "ends": end_words(side.ends),
            "ends_code": side.ends.by.key,
        }
        for side in choice.sides
    ]


def object_data(name: str, choice: Choice, units: str) -> dict[str, Any]:
    """One named object: where it stands, the better side and its reason, the room of both."""
    return {
        "object": name,
        "hour_angle_h": round(choice.hour_angle_h, 6),
        "declination_deg": round(choice.declination_deg, 6),
        "better_side": choice.better or None,
        "reason": side_reason_words(choice, units),
        "reason_code": choice.reason.value,
        "sides": sides_data(choice),
    }


def _named(told: Mapping[str, Any]) -> str:
    side = f"side {told['better_side']}. " if told["better_side"] else ""
    return f"{told['object']}: {side}{told['reason']}"


def _table(rows: Sequence[Stretch]) -> str:
    lines = ["Hour angles over which each side can follow (east of the meridian negative):",
             f"  {'':<7}{'side east':<35}{'side west'}"]  # fmt: skip
    for d in sorted({r.declination_deg for r in rows}, reverse=True):
        columns = []
        for side in ("east", "west"):
            own = [r for r in rows if r.declination_deg == d and r.side == side]
            columns.append([_stretch(r) for r in own])
        for k in range(max(len(c) for c in columns)):
            east, west = (c[k] if k < len(c) else "" for c in columns)
            label = degrees(d, 0, signed=bool(d)) if k == 0 else ""
            lines.append(f"  {label:<7}{east:<35}{west}".rstrip())
    return "\n".join(lines)


def _stretch(row: Stretch) -> str:
    if row.ends.by is End.NOTHING:
        return "all round"
    begin, end = (hours_minutes((h + 12) % 24 - 12, signed=True) for h in (row.from_h, row.to_h))
    return f"{begin} to {end} ({row.ends.by.key})"


def _contacts(rows: Sequence[Stretch]) -> list[str]:
    words: dict[str, list[float]] = {}
    for r in rows:
        if r.ends.by is End.CONTACT:
            words.setdefault(f"side {r.side}: {end_words(r.ends)}", []).append(r.declination_deg)
    out = []
    for text, at in words.items():
        spots = ", ".join(degrees(d, 0, signed=bool(d)) for d in at)
        out.append(f"{text} (declination {spots})")
    return out


def room_data(kit: Kit, share: Mapping[str, float], rows: Sequence[Stretch]) -> dict[str, Any]:
    """The same for programs."""
    return {
        "share_of_open_sky": {k: round(v, 4) for k, v in share.items()},
        "margin_mm": kit.habits.clearance_margin_mm,
        "lowest_altitude_deg": kit.habits.lowest_altitude_deg,
        "stretches": [
            {
                "side": r.side,
                "declination_deg": r.declination_deg,
                "from_hour_angle_h": round(r.from_h, 4),
                "to_hour_angle_h": round(r.to_h, 4),
                "ends": r.ends.by.key,
                "why": end_words(r.ends),
            }
            for r in rows
        ],
        "guessed": [g for g in kit.guessed if g.startswith(("mount.", "tube."))],
    }
