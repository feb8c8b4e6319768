"""The handbook as pages: rendered safely, linked without a gap, shipped with the package."""

from __future__ import annotations

import importlib
import re
import tomllib
from html.parser import HTMLParser
from pathlib import Path

import pytest

import build_site
from axletree.kit.errors import AxletreeError
from axletree.tell.handbook import pages as handbook

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = handbook.handbook_pages()
# Pages of the maintainers, beside the handbook.
BESIDE = {"benchmarks", "testing"}  # for maintainers, not pages of the handbook


class Reader(HTMLParser):
    """Checks that tags close in their order, and collects what a page leads to."""

    VOID = frozenset({"img", "meta", "link", "br", "hr", "wbr"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.leads: list[str] = []
        self.ids: set[str] = set()
        self.tags: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.add(tag)
        self.leads += [str(found[a]) for a in ("href", "src") if a in found]
        if found.get("id"):
            self.ids.add(str(found["id"]))
        if tag == "img":
            assert found.get("alt")
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def read(html: str) -> Reader:
    reader = Reader()
    reader.feed(html)
    assert reader.open == []
    return reader


def test_every_page_has_its_place_in_the_order() -> None:
    assert list(PAGES) == list(handbook.ORDER)
    assert {f.stem for f in DOCS.glob("*.md")} - BESIDE == set(handbook.ORDER)


@pytest.mark.parametrize("name", list(PAGES))
def test_pages_have_one_heading_and_their_links_lead_somewhere(name: str) -> None:
    page = PAGES[name]
    reader = read(page.html)
    assert page.html.count("<h1>") == 1
    assert page.title in page.html.replace("&quot;", '"')
    for lead in reader.leads:
        target, _, anchor = lead.partition("#")
        if target.startswith("pictures/"):
            assert (DOCS / target).is_file()
            assert handbook.handbook_picture(Path(target).stem).startswith("<svg")
            continue
        assert target in PAGES, f"{name} leads to {lead}"
        if anchor:
            assert anchor in read(PAGES[target].html).ids


def test_sources_on_the_pages_are_those_of_the_code() -> None:
    code = "\n".join(f.read_text(encoding="utf-8") for f in (ROOT / "src").rglob("*.py"))
    code = " ".join(code.split())
    cited: set[tuple[str, str]] = set()
    for name in PAGES:
        text = " ".join((DOCS / f"{name}.md").read_text(encoding="utf-8").split())
        cited |= set(re.findall(r"[A-Z]\. ([A-Z][a-z]+)(?: et al\.)? ((?:18|19|20)\d\d)", text))
    assert len(cited) >= 20
    for author, year in cited:
        near = [code[m.start() - 10 : m.start() + 160] for m in re.finditer(author, code)]
        assert any(year in words for words in near), f"{author} {year} is not in the code"


def test_markup_of_strangers_does_not_pass() -> None:
    text = "# A\n\n<script>x</script> <img src=x onerror=y> [a](javascript:z) ![b](c.png)\n"
    page = handbook.page("a", text)
    assert "<script" not in page.html
    assert "onerror=y&gt;" in page.html
    assert 'href="javascript' not in page.html


def test_addresses_are_the_caller_s() -> None:
    page = handbook.page("a", "# A\n\n[n](north.md#limits) [o](other.txt)", lambda n: f"/h/{n}")
    assert 'href="/h/north#limits"' in page.html
    assert 'href="other.txt"' in page.html


@pytest.mark.parametrize("name", ["../pyproject", "pole.svg", "", "no_such_picture", "POLE"])
def test_no_other_file_is_handed_out_as_a_picture(name: str) -> None:
    with pytest.raises(AxletreeError):
        handbook.handbook_picture(name)


def test_the_handbook_is_found_inside_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = tmp_path / "axletree" / "handbook"
    inside.mkdir(parents=True)
    (inside / "index.md").write_text("# Here\n")
    module = tmp_path / "axletree" / "tell" / "handbook" / "pages.py"
    monkeypatch.setattr(handbook, "__file__", str(module))
    assert handbook.handbook_folder() == inside
    (inside / "index.md").unlink()
    with pytest.raises(AxletreeError):
        handbook.handbook_folder()


def test_the_package_carries_pages_and_types() -> None:
    built = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wheel = built["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert wheel["force-include"] == {"docs": "axletree/handbook"}
    assert any(d.startswith("markdown-it-py") for d in built["project"]["dependencies"])
    assert (ROOT / "src" / "axletree" / "py.typed").is_file()


def test_the_site_stands_alone(tmp_path: Path) -> None:
    files = build_site.build(tmp_path)
    names = {str(f.relative_to(tmp_path)) for f in files}
    assert {f"{n}.html" for n in PAGES} <= names
    for name in PAGES:
        html = (tmp_path / f"{name}.html").read_text(encoding="utf-8")
        reader = read(html)
        assert "script" not in reader.tags
        assert html.count('aria-current="page"') == 1
        assert re.search(r"https?:", html) is None
        for lead in reader.leads:
            target = lead.partition("#")[0]
            assert target in names or not target, f"{name} leads to {lead}"


LISTED = ["kit", "sky", "axis", "ground", "mount", "pole", "evening", "stages", "tell"]
ROOMS = [
    folder.relative_to(ROOT / "src")
    for package in LISTED
    for folder in (ROOT / "src" / "axletree" / package).rglob("*")
    if (folder / "__init__.py").is_file()
] + [Path("axletree") / package for package in LISTED]


@pytest.mark.parametrize("room", ROOMS, ids=str)
def test_a_room_lists_its_modules_at_its_head(room: Path) -> None:
    words = importlib.import_module(".".join(room.parts)).__doc__ or ""
    listed = set(re.findall(r"^  ([a-z_]+)  ?\s*\S", words, re.MULTILINE))
    here = ROOT / "src" / room
    modules = {f.stem for f in here.glob("*.py")} - {"__init__"}
    rooms = {f.parent.name for f in here.glob("*/__init__.py")}
    assert listed == modules | rooms
