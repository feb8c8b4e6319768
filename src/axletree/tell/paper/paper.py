"""How is the run sheet printed? A tagged PDF, fonts embedded, text that can be selected.

The layout is `paper.typ`; the typesetter is Typst (a library). What is written comes from the
`Evening` document alone.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC
from importlib.resources import files
from typing import Any, Literal
from zoneinfo import ZoneInfo

from axletree.kit.errors import AxletreeError
from axletree.tell.evening.document import Evening, NudgeFacts, StageFacts, StopFacts
from axletree.tell.shared.sheet import plain_colours
from axletree.tell.shared.words import (
    above_ground,
    clock,
    degrees,
    duration,
    hours_minutes,
    knob_turns,
)

# More stops than this are printed small, so that three pages hold them.
LARGE_STOPS = 16

Paper = Literal["a4", "us-letter"]


def evening_pdf(
    evening: Evening,
    drawings: Mapping[str, str] | None = None,
    stop_drawings: Mapping[int, str] | None = None,
    paper: Paper = "a4",
) -> bytes:
    """The PDF (PDF/UA-1) of an evening; same document, same bytes.

    `drawings` are SVG texts by their description, shown beside the stages; `stop_drawings` are
    SVG texts by stop number.
    """
    import typst

    pictures = {f"drawing{i}.svg": pair for i, pair in enumerate((drawings or {}).items())}
    sheet = sheet_of(evening, paper)
    shown = {} if sheet["compact"] else (stop_drawings or {})
    stops = {f"stop{number}.svg": (number, svg) for number, svg in shown.items()}
    sheet["drawings"] = [{"file": name, "alt": alt} for name, (alt, _) in pictures.items()]
    for name, (number, _) in stops.items():
        for row in sheet["stops"]:
            if row["number"] == number:
                row["drawing"] = name
                row["drawing_alt"] = f"The rig at {row['name']}, seen from behind"
    source = files("axletree.tell.paper") / "paper.typ"
    sources: dict[str, bytes] = {
        "main.typ": source.read_bytes(),
        "sheet.json": json.dumps(sheet, ensure_ascii=False).encode(),
    }
    for name, (_, svg) in {**pictures, **stops}.items():
        sources[name] = _black_on_white(svg).encode()
    try:
        # The package's type hints know no dict of files yet, its documentation does.
        made = typst.compile(  # type: ignore[call-overload]
            sources, format="pdf", pdf_standards=["ua-1"], ignore_system_fonts=True,
            timestamp=evening.made_at.astimezone(UTC),
        )  # fmt: skip
    except typst.TypstError as error:
        raise AxletreeError(f"the paper could not be typeset: {error}") from None
    assert isinstance(made, bytes)
    return made


def _black_on_white(svg: str) -> str:
    """The drawing in black: brass and grey fade under a red lamp, and paper is white anyway."""
    plain = plain_colours(svg)
    for colour, printed in (("#fbf8f1", "#ffffff"), ("#8a6d1f", "#000000"), ("#8d877b", "#555555")):
        plain = plain.replace(colour, printed)
    return plain


def sheet_of(evening: Evening, paper: Paper = "a4") -> dict[str, Any]:
    """Every word of the paper, in the order in which it is printed."""
    zone = ZoneInfo(evening.place.time_zone)
    night = evening.darkness

    def at(moment: Any) -> str:
        return clock(moment, zone) if moment else "never"

    return {
        "paper": paper,
        "title": evening.place.name,
        "subtitle": f"{evening.date:%A %d %B %Y}. {evening.rig.tube} on {evening.rig.mount}.",
        "keywords": ["run sheet", "equatorial mount", evening.date.isoformat()],
        "facts": [
            {"label": "Sun sets", "value": at(night.sunset)},
            {"label": "pole star shows", "value": at(night.pole_star_visible)},
            {"label": "dark from", "value": at(night.astronomical_dusk)},
            {"label": "Moon", "value": f"{night.moon.lit_fraction * 100:.0f} %"},
            {"label": _moon_label(evening, zone)[0], "value": _moon_label(evening, zone)[1]},
        ],
        "note": night.note,
        "stages": [_stage(stage, zone) for stage in evening.stages],
        "compact": len(evening.stops) > LARGE_STOPS,
        "stops_title": f"The sky, in {len(evening.stops)} stops",
        "stops": [_stop(stop, evening, zone) for stop in evening.stops],
        "order": evening.order.words[:1].upper() + evening.order.words[1:],
        "given_up": [item.model_dump() for item in evening.given_up[:6]],
        "cautions": list(evening.cautions),
        "assumed": _assumed(evening),
        "footer": (
            f"{evening.place.latitude_deg:.3f}°, {evening.place.longitude_deg:.3f}°. Times are "
            f"{evening.place.time_zone}. Not for navigation."
        ),
    }


def _moon_label(evening: Evening, zone: ZoneInfo) -> tuple[str, str]:
    moon = evening.darkness.moon
    events = [(m, w) for m, w in ((moon.rise, "Moon rises"), (moon.set, "Moon sets")) if m]
    if not events:
        return "Moon", "no rise or set"
    after = [e for e in events if evening.darkness.sunset and e[0] > evening.darkness.sunset]
    moment, words = min(after or events)
    return words, clock(moment, zone)


def _stage(stage: StageFacts, zone: ZoneInfo) -> dict[str, Any]:
    return {
        "time": clock(stage.begin, zone),
        "name": stage.name[:1].upper() + stage.name[1:],
        "answer": stage.answer,
        "details": list(stage.details),
        "cautions": list(stage.cautions),
    }


def _stop(stop: StopFacts, evening: Evening, zone: ZoneInfo) -> dict[str, Any]:
    side, view, start, nudge = stop.chosen, stop.view, stop.start, stop.nudge
    until = "all night"
    if side.room_ends:
        until = f"to {clock(side.room_ends, zone)}, then {side.ends_by}"
    rows = [
        {
            "label": "Circles",
            "value": f"hour angle {hours_minutes(start.hour_circle_h, signed=True)}, declination "
            f"{degrees(start.declination_circle_deg, signed=True)}; "
            f"{degrees(start.altitude_deg, 0)} high, azimuth {degrees(start.azimuth_deg, 0)}",
        },
        {"label": "Room", "value": until + (", weights up" if side.weights_up else "")},
        {
            "label": view.eyepiece,
            "value": f"{view.magnification:.0f}x, "
            f"{above_ground(view.height_mm, evening.units)} up, face "
            f"{view.face_words}{_posture(view.reach)}; {_nudge(nudge)}",
        },
    ]
    return {
        "number": stop.number,
        "name": stop.name,
        "what": ", ".join(w for w in (*stop.also_called[:1], stop.kind, stop.constellation) if w),
        "begin": clock(stop.begin, zone),
        "end": clock(stop.end, zone),
        "side": side.side,
        "rows": rows,
        "sight": f"{stop.visibility[:1].upper()}{stop.visibility[1:]}. {stop.why}",
        "warnings": [*stop.turn_warnings, *stop.cautions],
        "drawing": None,
        "drawing_alt": "",
    }


def _posture(reach: str) -> str:
    return "" if reach == "standing height" else f", {reach}"


def _nudge(nudge: NudgeFacts) -> str:
    if nudge.knob_turns > 0 and nudge.every_s is not None:
        return f"{knob_turns(nudge.knob_turns)} {nudge.direction} every {duration(nudge.every_s)}"
    words = nudge.direction[:1].lower() + nudge.direction[1:].rstrip(".")
    return words.split(";")[0]


def _assumed(evening: Evening) -> str:
    words = "Assumed: " + "; ".join(evening.assumptions) + "."
    if evening.rig.guessed:
        words += f" {len(evening.rig.guessed)} dimensions of the rig were guessed."
    return words
