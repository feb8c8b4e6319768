"""The checks of the browser's modules find what they are there for."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOOLS = ROOT / ".venv" / "js" / "node_modules" / ".bin"
FOLDERS = ("src/axletree/app/static", "src/axletree/tell/field_sheet/static")
WITH_PEN = ("src/axletree/app/static/shared", FOLDERS[1])
GOOD = 'import { words } from "./pen.js";\n\nexport const title = words(10, 20, "north");\n'


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """The modules and what the checks read, without the rest."""
    if not (TOOLS / "tsc").exists():
        pytest.skip(
            "the checks of the browser's modules are not installed; 'make test' brings them"
        )
    for folder in FOLDERS:
        shutil.copytree(ROOT / folder, tmp_path / folder)
    for name in ("jsconfig.json", "biome.json"):
        (tmp_path / "tools" / "js").mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / "tools" / "js" / name, tmp_path / "tools" / "js" / name)
    shutil.copy(ROOT / "tools" / "pages.sh", tmp_path / "tools" / "pages.sh")
    shutil.copy(ROOT / "tools" / "js" / "package-lock.json", tmp_path / "tools" / "js")
    (tmp_path / ".venv").symlink_to(ROOT / ".venv")
    return tmp_path


def check(folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["sh", "tools/pages.sh", "check"], cwd=folder, capture_output=True, text=True
    )


def test_a_good_module_passes(checkout: Path) -> None:
    (checkout / WITH_PEN[0] / "new.js").write_text(GOOD, encoding="utf-8")
    said = check(checkout)
    assert said.returncode == 0, said.stdout + said.stderr


@pytest.mark.parametrize(
    ("folder", "bad", "words"),
    [
        (WITH_PEN[0], GOOD.replace("words(10, 20", "words(10,20"), "format"),
        (WITH_PEN[1], GOOD.replace("= words(10, 20, ", "= String("), "noUnusedImports"),
        (WITH_PEN[0], GOOD.replace("20,", '"20",'), "TS2345"),
        (WITH_PEN[1], GOOD.replace(', "north"', ""), "TS2554"),
    ],
    ids=["its looks", "an import that nobody uses", "a word for a number", "too few arguments"],
)
def test_a_bad_one_does_not(checkout: Path, folder: str, bad: str, words: str) -> None:
    assert bad != GOOD
    (checkout / folder / "new.js").write_text(bad, encoding="utf-8")
    said = check(checkout)
    assert said.returncode != 0
    assert words in said.stdout + said.stderr


def test_the_tools_are_pinned_with_hashes_and_come_from_no_named_place() -> None:
    lock = json.loads((ROOT / "tools" / "js" / "package-lock.json").read_text(encoding="utf-8"))
    packages = {name: p for name, p in lock["packages"].items() if name}
    assert "node_modules/typescript" in packages
    for name, package in packages.items():
        assert package["integrity"].startswith("sha512-"), name
        assert "resolved" not in package, name
    asked = json.loads((ROOT / "tools" / "js" / "package.json").read_text(encoding="utf-8"))
    for name, version in asked["devDependencies"].items():
        assert packages[f"node_modules/{name}"]["version"] == version
