"""How is the run sheet printed? A tagged PDF, fonts embedded, text that can be selected.

The layout is `paper.typ`; the typesetter is Typst (a library). What is written comes from the
`Evening` document alone.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from importlib.resources import files

from axletree.tell.evening.document import Evening
from axletree.tell.paper.text import SEEN_FROM, drawing_of_stop, field_of_stop, sheet_of
from axletree.tell.paper.typeset import Paper, typeset
from axletree.tell.shared.sheet import plain_colours

# How wide in mm `paper.typ` shows each kind of drawing at least.
STAGE_MM, POSE_MM, FIELD_MM, TAPE_MM = 62.0, 27.0, 28.0, 37.0
# Thinner lines are lost under a red lamp. Common practice in print (0.25 pt is a hairline, 0.5 pt
# the least that a copier keeps), no source.
LEAST_LINE_PT = 0.5


def evening_pdf(
    evening: Evening,
    drawings: Mapping[str, str] | None = None,
    stop_drawings: Mapping[int, str] | None = None,
    stop_fields: Mapping[int, str] | None = None,
    tape_drawings: Mapping[str, str] | None = None,
    paper: Paper = "a4",
) -> bytes:
    """The PDF (PDF/UA-1) of an evening; same document, same bytes.

    `drawings` are SVG texts by their description, shown beside the stages; `stop_drawings` (the
    rig) and `stop_fields` (what the finder shows) are SVG texts by stop number, `tape_drawings`
    (where to measure) by the dimension's key.
    """
    pictures = {f"drawing{i}.svg": pair for i, pair in enumerate((drawings or {}).items())}
    sheet = sheet_of(evening, paper)
    shown = {} if sheet["compact"] else (stop_drawings or {})
    stops = {f"stop{number}.svg": (number, svg) for number, svg in shown.items()}
    fields = {f"field{number}.svg": (number, svg) for number, svg in (stop_fields or {}).items()}
    sheet["drawings"] = [{"file": name, "alt": alt} for name, (alt, _) in pictures.items()]
    for name, (number, _) in stops.items():
        for row in sheet["stops"]:
            if row["number"] == number:
                row["drawing"] = name
                row["drawing_alt"] = drawing_of_stop(row["name"])
                row["drawing_words"] = SEEN_FROM
    for name, (number, _) in fields.items():
        for row in sheet["stops"]:
            if row["number"] == number:
                row["field"] = name
                row["field_alt"] = field_of_stop(row["name"])
    tapes = {f"tape{i}.svg": pair for i, pair in enumerate((tape_drawings or {}).items())}
    for name, (key, _) in tapes.items():
        for row in sheet["measure"]:
            if row["key"] == key:
                row["drawing"] = name
    source = files("axletree.tell.paper") / "paper.typ"
    sources: dict[str, bytes] = {
        "main.typ": source.read_bytes(),
        "sheet.json": json.dumps(sheet, ensure_ascii=False).encode(),
    }
    kinds = ((pictures, STAGE_MM), (stops, POSE_MM), (fields, FIELD_MM), (tapes, TAPE_MM))
    for kind, wide_mm in kinds:
        for name, (_, svg) in kind.items():
            sources[name] = black_on_white(svg, wide_mm).encode()
    return typeset(sources, evening.made_at)


def black_on_white(svg: str, wide_mm: float) -> str:
    """The drawing in black, for a place at least so wide: brass and grey fade under a red lamp,
    paper is white anyway, and no line is thinner than `LEAST_LINE_PT`."""
    plain = plain_colours(svg)
    for colour, printed in (("#fbf8f1", "#ffffff"), ("#8a6d1f", "#000000"), ("#8d877b", "#555555")):
        plain = plain.replace(colour, printed)
    found = re.search(r'viewBox="0 0 ([\d.]+)', plain)
    assert found is not None
    least = LEAST_LINE_PT * float(found[1]) / (wide_mm / 25.4 * 72.0)

    def wider(match: re.Match[str]) -> str:
        width = float(match[1])
        return f'stroke-width="{max(width, least) if width else 0:.3g}"'

    return re.sub(r'stroke-width="([\d.]+)"', wider, plain)
