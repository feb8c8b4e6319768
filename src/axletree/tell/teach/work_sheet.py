"""How does the lesson become a work sheet on paper, with the class's own latitude?"""

from __future__ import annotations

import json
from datetime import datetime
from importlib.resources import files
from typing import Any

from axletree.mount.rig.parts import Rig
from axletree.stages.target.teach import TeachAnswer
from axletree.tell.paper.paper import black_on_white
from axletree.tell.paper.typeset import TYPST_PAPER, Paper, typeset
from axletree.tell.teach.work_sheet_drawing import circle_svg, globe_svg
from axletree.tell.teach.work_sheet_text import (
    TWICE,
    Task,
    answers_head,
    circle_title,
    circle_words,
    footer_line,
    globe_title,
    name_line,
    place_line,
    sheet_title,
    tasks,
)

# How wide in mm `work_sheet.typ` shows them at least.
GLOBE_MM, CIRCLE_MM = 98.0, 42.0


def work_sheet_pdf(answer: TeachAnswer, rig: Rig, made_at: datetime, paper: Paper = "a4") -> bytes:
    """The PDF (PDF/UA-1): a page for pupils, one of answers; same place and moment, same bytes."""
    star = answer.star.name
    globes = {
        "globe.svg": globe_svg(rig, answer.latitude_deg, solved=False),
        "globe_solved.svg": globe_svg(rig, answer.latitude_deg, solved=True),
    }
    circles = {
        "circle.svg": circle_svg(star, 0.0),
        "circle_empty.svg": circle_svg(star, None),
        "circle_half.svg": circle_svg(star, 1.0 / TWICE),
        "circle_edge.svg": circle_svg(star, 1.0),
    }
    sheet = {
        "paper": TYPST_PAPER[paper],
        "title": sheet_title(),
        "place": place_line(answer),
        "name": name_line(),
        "answers": answers_head(),
        "footer": footer_line(),
        "globe": globe_title(),
        "circle": circle_title(),
        "circles": list(circle_words(answer)),
        "tasks": [_task(task) for task in tasks(answer)],
    }
    source = files("axletree.tell.teach") / "work_sheet.typ"
    return typeset(
        {
            "main.typ": source.read_bytes(),
            "sheet.json": json.dumps(sheet, ensure_ascii=False).encode(),
            **{
                name: black_on_white(svg, wide_mm).encode()
                for drawings, wide_mm in ((globes, GLOBE_MM), (circles, CIRCLE_MM))
                for name, svg in drawings.items()
            },
        },
        made_at,
    )


def _task(task: Task) -> dict[str, Any]:
    return {
        "head": task.head, "asked": list(task.asked), "rows": list(task.rows),
        "right": list(task.right),
    }  # fmt: skip
