"""How is the run sheet printed? A tagged PDF, fonts embedded, text that can be selected.

The layout is `paper.typ`; the typesetter is Typst (a library). What is written comes from the
`Evening` document alone.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.resources import files

from axletree.tell.evening.document import Evening
from axletree.tell.paper.text import SEEN_FROM, Paper, drawing_of_stop, field_of_stop, sheet_of
from axletree.tell.paper.typeset import typeset
from axletree.tell.shared.sheet import plain_colours


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
    for name, (_, svg) in {**pictures, **stops, **fields, **tapes}.items():
        sources[name] = black_on_white(svg).encode()
    return typeset(sources, evening.made_at)


def black_on_white(svg: str) -> str:
    """The drawing in black: brass and grey fade under a red lamp, and paper is white anyway."""
    plain = plain_colours(svg)
    for colour, printed in (("#fbf8f1", "#ffffff"), ("#8a6d1f", "#000000"), ("#8d877b", "#555555")):
        plain = plain.replace(colour, printed)
    return plain
