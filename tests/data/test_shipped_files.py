"""Are the shipped data files the ones that SOURCES.md describes?  (No network needed.)"""

from __future__ import annotations

import hashlib
import importlib.util
import re
from pathlib import Path

import pytest

from axletree.data import data_path

DATA = data_path("SOURCES.md").parent
ROOT = Path(__file__).resolve().parents[2]
FILES = sorted(
    path.relative_to(DATA).as_posix()
    for path in DATA.rglob("*")
    if path.is_file() and path.suffix not in (".py", ".pyc", ".md")
)


def sums() -> dict[str, str]:
    """File name -> sha256, from headings with a sha256 line and from the table."""
    text = (DATA / "SOURCES.md").read_text(encoding="utf-8")
    found = dict(re.findall(r"^\| ([\w./]+) \|.*\| `([0-9a-f]{64})` \|$", text, re.MULTILINE))
    for part in text.split("\n## ")[1:]:
        if match := re.search(r"^\* sha256: `([0-9a-f]{64})`$", part, re.MULTILINE):
            found[part.split("\n", 1)[0]] = match[1]
    return found


@pytest.mark.parametrize("name", FILES)
def test_each_file_has_the_digest_that_the_sources_page_gives(name: str) -> None:
    assert hashlib.sha256((DATA / name).read_bytes()).hexdigest() == sums()[name]


def test_the_sources_page_lists_no_other_file() -> None:
    assert sorted(sums()) == FILES


def test_all_data_stay_under_30_megabytes() -> None:
    """Design, section 6: small enough to ship."""
    assert sum((DATA / name).stat().st_size for name in FILES) < 30e6


def test_files_under_share_alike_licences_are_separate_and_say_so() -> None:
    text = (DATA / "SOURCES.md").read_text(encoding="utf-8")
    parts = dict(part.split("\n", 1) for part in text.split("\n## ")[1:])
    assert "CC BY-SA 3.0 IGO" in parts["stars_gaps.npy"]
    assert "CC BY-SA 3.0 IGO" in parts["stars_faint.npy"]
    assert "CC BY-SA 3.0 IGO" in parts["doubles_gaia.csv"]
    assert "CC BY-SA 4.0" in parts["deep_sky.csv"]
    assert "CC BY 4.0" in parts["places.txt"]
    assert "SIL Open Font License 1.1" in parts["typeface/regular.woff2"]
    assert "PERMISSION & CONDITIONS" in data_path("typeface/LICENSE.txt").read_text("utf-8")
    assert "CC" not in parts["stars.npy"].split("* Changed")[0].split("* Licence")[1]


def test_the_sources_page_names_the_versions_that_the_build_pins() -> None:
    spec = importlib.util.spec_from_file_location("build", ROOT / "tools" / "build_data.py")
    assert spec is not None
    assert spec.loader is not None
    build = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(build)
    text = (DATA / "SOURCES.md").read_text(encoding="utf-8")
    pinned = {pin.replace("==", " ") for pin in (*build.PINS, *build.PINS_ALONE)}
    named = set(re.findall(r"^\* Packages: (.*)$", text, re.MULTILINE))
    used = {package for line in named for package in line.split(", ")}
    assert used <= pinned
    assert set(build.BUILT) <= set(FILES)


def test_a_missing_file_is_said_so() -> None:
    with pytest.raises(FileNotFoundError, match="no data file"):
        data_path("no_such_file.npy")
