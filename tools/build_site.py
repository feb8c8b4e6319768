"""Turn the handbook into a folder of plain HTML pages that any web server can hand out.

    python tools/build_site.py [FOLDER]      (out/site)

No script, no request to anywhere else; the look is the program's own sheet of paper
(`tools/site`).
"""

from __future__ import annotations

import argparse
import shutil
import sys
from html import escape
from pathlib import Path
from string import Template

from axletree import __version__
from axletree.data import data_path
from axletree.tell.handbook.pages import HandbookPage, handbook_folder, handbook_pages, shelf

ROOT = Path(__file__).parents[1]

SITE = Path(__file__).parent / "site"


def address(name: str) -> str:
    """The file of a page."""
    return f"{name}.html"


def whole_page(page: HandbookPage, pages: dict[str, HandbookPage]) -> str:
    """A page with its head, the list of pages and what comes before and after it."""
    names = list(pages)
    at = names.index(page.name)
    before = _turn(pages, names[at - 1], "Before") if at else "<span></span>"
    after = _turn(pages, names[at + 1], "Next") if at + 1 < len(names) else ""
    frame = Template((SITE / "page.html").read_text(encoding="utf-8"))
    return frame.substitute(
        title=escape(page.title), version=escape(__version__), html=page.html,
        shelf=shelf(pages, page.name, address), turn=f'<p class="turn">{before}{after}</p>',
    )  # fmt: skip


def _turn(pages: dict[str, HandbookPage], name: str, word: str) -> str:
    title = escape(pages[name].title.split(":")[0])
    return f'<a href="{address(name)}">{word}: {title}</a>'


def build(folder: Path) -> list[Path]:
    """Write the site; the files that were written."""
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(SITE / "handbook.css", folder / "handbook.css")
    shutil.copytree(handbook_folder() / "pictures", folder / "pictures", dirs_exist_ok=True)
    for name in ("regular.woff2", "semibold.woff2", "italic.woff2", "LICENSE.txt"):
        (folder / "typeface").mkdir(exist_ok=True)
        shutil.copyfile(data_path(f"typeface/{name}"), folder / "typeface" / name)
    pages = handbook_pages(address)
    for page in pages.values():
        (folder / address(page.name)).write_text(whole_page(page, pages), encoding="utf-8")
    return sorted(f for f in folder.rglob("*") if f.is_file())


def main() -> int:
    """Build into the folder that is named, or out/site."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("folder", nargs="?", type=Path, default=ROOT / "out" / "site")
    folder = parser.parse_args().folder
    files = build(folder)
    print(f"{len(files)} files, {sum(f.stat().st_size for f in files) / 1000:.0f} kB in {folder}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
