"""Which pages are there, in which order, and what does each ask?

A page is one row here, one template (`templates/NAME.html`), one ES module (`static/NAME.js`)
and one module of answers (`answers/NAME.py`). Rows without a template are not shown.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import jinja2

from axletree.kit.job import JOB

HERE = Path(__file__).parents[1]
TEMPLATES = HERE / "templates"
STATIC = HERE / "static"


@dataclass(frozen=True)
class Page:
    """One page: its name (address, template and module), its word in the list, its question."""

    name: str
    word: str
    question: str
    modules: tuple[str, ...] = ()

    @property
    def scripts(self) -> tuple[str, ...]:
        """The modules that the page loads, its own first, for the browser to fetch at once."""
        others = (*SHARED, *self.modules)
        shared = (name if "/" in name else f"shared/{name}" for name in others)
        words = f"words/{self.name}.js"
        own = (words,) if (STATIC / words).is_file() else ()
        return (f"pages/{self.name}.js", *own, *shared)


SHARED = ("page.js", "link.js", "pen.js", "words.js", "words/shared.js")
_ROWS = (
    Page("kit", "kit", "What do I own, and where do I stand?", ("drawing.js",)),
    Page("spot", "spot", "Where do I put the tripod?", ("pages/yard.js",)),
    Page("level", "level", "Which leg, how much?"),
    Page("north", "north", "Which way is the pole?", ("clock.js",)),
    Page("balance", "balance", "Where do the weights and the tube go?", ("swing.js",)),
    Page("pole", "pole", "How do I put the axis on the pole?", ("clock.js", "scale.js")),
    Page("check", "check", "How far is my axis off, really?", ("ellipse.js",)),
    Page("point", "point", "Which side, how far, where is the eyepiece?",
         ("scene.js", "clock.js", "scale.js", "choose.js")),
    Page("follow", "follow", "How do I keep it in view?", ("clock.js", "choose.js")),
    Page("evening", "evening", "What do I show, when, in which order?",
         ("timeline.js", "clock.js")),
    Page("calendar", "calendar", "Which night?"),
    Page("logbook", "logbook", "What did we see, what drifted?"),
    Page("teach", "why", "Why does this work?", ("scene.js", "globe.js", "scale.js")),
)  # fmt: skip
_ORDER = ("kit", *JOB, "evening", "calendar", "logbook", "teach")
PAGES = tuple(sorted(_ROWS, key=lambda page: _ORDER.index(page.name)))
START = Page("start", "start", "Where are you in the evening?", ("drawing.js",))


@cache
def pages() -> tuple[Page, ...]:
    """The pages that exist, in the order of the job."""
    return tuple(page for page in PAGES if (TEMPLATES / f"{page.name}.html").is_file())


def page_named(name: str) -> Page | None:
    """The page of this name, or None."""
    return next((page for page in (START, *pages()) if page.name == name), None)


@cache
def edition() -> str:
    """A short name for the static files as they are: browsers keep them until it changes."""
    digest = hashlib.sha256()
    for file in sorted(f for f in STATIC.rglob("*") if f.is_file()):
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
