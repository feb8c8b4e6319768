"""Which pages are there, in which order, and what does each ask?

A page is one row here, one template (`templates/NAME.html`), one ES module
(`static/pages/NAME.js`; its parts are `NAME_PART.js`) and one module of answers
(`answers/ROOM/NAME.py`). Rows without a template are not shown.
"""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path
from typing import Any

import jinja2

from axletree.app.web import joined as joining
from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.kit.job import JOB

HERE = Path(__file__).parents[1]
TEMPLATES = HERE / "templates"
STATIC = HERE / "static"
TYPEFACE = data_path("typeface/regular.woff2").parent  # served as static/typeface


@dataclass(frozen=True)
class Page:
    """One page: its name (address, template and module), its word in the list, its question."""

    name: str
    word: str
    question: str
    at_eyepiece: bool = False  # its thumb's bar leads to what is now, not along the list of the job
    asks: tuple[str, ...] = ()  # answers that its module asks for at once, the same for everybody


_ROWS = (
    Page("kit", "kit", "What do I own, and where do I stand?", asks=("kit",)),
    Page("spot", "spot", "Where do I put the tripod?", asks=("yard",)),
    Page("level", "level", "Which leg, how much?"),
    Page("north", "north", "Which way is the pole?"),
    Page("balance", "balance", "Where do the weights and the tube go?"),
    Page("pole", "pole", "How do I put the axis on the pole?"),
    Page("check", "check", "How far is my axis off, really?"),
    Page(
        "point",
        "point",
        "Which side, how far, where is the eyepiece?",
        at_eyepiece=True,
        asks=("rig",),
    ),
    Page("find", "find", "How does it get into the eyepiece?", at_eyepiece=True),
    Page("follow", "follow", "How do I keep it in view?", at_eyepiece=True),
    Page("evening", "evening", "What do I show, when, in which order?", at_eyepiece=True),
    Page("rehearse", "rehearse", "What will my hands do tonight?"),
    Page("calendar", "calendar", "Which night?"),
    Page("logbook", "logbook", "What did we see, what drifted?"),
    Page("teach", "why", "Why does this work?", asks=("rig",)),
)
_ORDER = ("kit", *JOB, "evening", "rehearse", "calendar", "logbook", "teach")
PAGES = tuple(sorted(_ROWS, key=lambda page: _ORDER.index(page.name)))
START = Page("start", "start", "Where are you in the evening?")
# Pages beside the list of the job.
BEGIN = Page("begin", "begin", "Five answers, and it is your kit", asks=("kit/mounts", "kit"))
BOARD = Page("board", "board", "What is being shown?")
ASIDE = (START, BEGIN, BOARD)


@cache
def pages() -> tuple[Page, ...]:
    """The pages that exist, in the order of the job."""
    return tuple(page for page in PAGES if (TEMPLATES / f"{page.name}.html").is_file())


def page_named(name: str) -> Page | None:
    """The page of this name, or None."""
    return next((page for page in (*ASIDE, *pages()) if page.name == name), None)


@cache
def edition() -> str:
    """A short name for the static files as they are: browsers keep them until it changes."""
    digest = hashlib.sha256(Path(joining.__file__).read_bytes())
    for file in sorted(f for top in (STATIC, TYPEFACE) for f in top.rglob("*") if f.is_file()):
        digest.update(file.name.encode() + file.read_bytes())
    return digest.hexdigest()[:12]


@cache
def _environment() -> jinja2.Environment:
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def render(page: Page, **values: Any) -> str:
    """The page as HTML; every value is escaped."""
    shown = pages()
    at = next((i for i, p in enumerate(shown) if p.name == page.name), None)
    before = shown[at - 1] if at else None
    following = 0 if at is None else at + 1
    after = shown[following] if following < len(shown) else None
    return _environment().get_template(f"{page.name}.html").render(
        page=page, pages=shown, before=before, after=after, static=f"/static/{edition()}", **values
    )  # fmt: skip


def render_plain(name: str, **values: Any) -> str:
    """A template that is no page of the job: the code, or that something isn't there."""
    return _environment().get_template(f"{name}.html").render(
        pages=pages(), static=f"/static/{edition()}", **values
    )  # fmt: skip
