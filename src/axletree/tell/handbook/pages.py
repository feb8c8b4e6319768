"""How do the handbook's pages read on a screen? Markdown from `docs/`, rendered to plain HTML.

The pages are shipped inside the package (`axletree/handbook`); in a working copy they are read
from `docs/` beside `src/`. What comes out is the inner part of a page: whoever shows it puts its
own head and style around it. No raw HTML passes from the pages into the result.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.job import JOB

# The order of the job, then what goes with it.
ORDER = (
    "index",
    *JOB,
    "photographs",
    "evening",
    "rehearse",
    "screens",
    "hosting",
    "calendar",
    "brought",
    "log",
    "teach",
    "sure",
    "accuracy",
    "commands",
    "library",
    "words",
)

Link = Callable[[str], str]


@dataclass(frozen=True)
class HandbookPage:
    """One page: its name ('north'), its heading as plain text, and its body as HTML.

    `sections` are (anchor, heading) of its parts.
    """

    name: str
    title: str
    html: str
    sections: tuple[tuple[str, str], ...]


def handbook_folder() -> Path:
    """Where the pages lie: inside the package, or in a working copy's `docs`."""
    package = Path(__file__).parents[2]
    for folder in (package / "handbook", package.parents[1] / "docs"):
        if (folder / "index.md").is_file():
            return folder
    raise AxletreeError("the handbook's pages are not here; install the package again")


def handbook_pages(link: Link | None = None) -> dict[str, HandbookPage]:
    """All pages by name, in the order of the job.

    `link` makes an address from a page's name; left out, the name itself is the address, which
    suits pages that are served side by side. Pictures are addressed as 'pictures/NAME.svg'.
    """
    folder = handbook_folder()
    names = [n for n in ORDER if (folder / f"{n}.md").is_file()]
    return {n: page(n, (folder / f"{n}.md").read_text(encoding="utf-8"), link) for n in names}


def handbook_picture(name: str) -> str:
    """The SVG text of a picture, by its file's name without '.svg'; refuses an unknown one."""
    file = handbook_folder() / "pictures" / f"{name}.svg"
    if not re.fullmatch(r"[a-z_]+", name) or not file.is_file():
        raise AxletreeError(f"the handbook has no picture '{name[:40]}'")
    return file.read_text(encoding="utf-8")


def page(name: str, markdown: str, link: Link | None = None) -> HandbookPage:
    """One page from its Markdown."""
    address = link or (lambda page_name: page_name)
    tokens = _reader().parse(markdown)
    sections: list[tuple[str, str]] = []
    title = name
    for i, token in enumerate(tokens):
        if token.type == "heading_open":
            words = _plain(tokens[i + 1])
            if token.tag == "h1":
                title = words
                continue
            anchor = re.sub(r"[^a-z0-9]+", "-", words.casefold()).strip("-")
            token.attrSet("id", anchor)
            if token.tag == "h2":
                sections.append((anchor, words))
        elif token.type == "inline":
            _mend_links(token, address)
    html = _reader().renderer.render(tokens, _reader().options, {})
    # A table may be wider than a phone: it gets a frame of its own to move in.
    html = html.replace("<table>", '<div class="wide"><table>')
    html = html.replace("</table>", "</table></div>")
    return HandbookPage(name, title, html, tuple(sections))


@cache
def _reader() -> Any:
    from markdown_it import MarkdownIt

    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    reader.add_render_rule("code_inline", _code)
    return reader


def _code(_renderer: Any, tokens: Any, k: int, _options: Any, _env: Any) -> str:
    """What is typed, within a sentence: on a narrow screen a path may go on after a slash."""
    return f"<code>{escape(tokens[k].content).replace('/', '/<wbr>')}</code>"


def _plain(inline: Any) -> str:
    return "".join(c.content for c in inline.children if c.type in ("text", "code_inline"))


def _mend_links(inline: Any, address: Link) -> None:
    """Links between pages lead to their addresses; links to the code's files become plain words."""
    for child in inline.children:
        if child.type == "link_open":
            target = str(child.attrGet("href"))
            found = re.fullmatch(r"([a-z]+)\.md(#.*)?", target)
            if found:
                child.attrSet("href", address(found[1]) + (found[2] or ""))
        elif child.type == "image":
            child.attrSet("loading", "lazy")


def shelf(pages: dict[str, HandbookPage], here: str, address: Link) -> str:
    """The list of all pages as HTML, the one that is open marked."""
    rows = []
    for name, one in pages.items():
        mark = ' aria-current="page"' if name == here else ""
        rows.append(f'<li><a href="{escape(address(name))}"{mark}>{escape(one.title)}</a></li>')
    return f"<ol>{''.join(rows)}</ol>"
