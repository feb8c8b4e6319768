"""The sheets on the disk; helpers of this folder go by their plain names."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent))

from nights import MOON_DAY, bright_sheet, hostile_sheet, sheet_of


@pytest.fixture(scope="session")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Sheets on the disk, by a short name."""
    folder = tmp_path_factory.mktemp("night sheet")  # a blank in the path, as phones have
    made = {
        "north": sheet_of("courtyard"),
        "south": sheet_of("paddock"),
        "moon": sheet_of("courtyard", MOON_DAY),
        "hostile": hostile_sheet(),
        "bright": bright_sheet(),
    }
    for name, content in made.items():
        (folder / f"{name}.html").write_bytes(content)
    return {name: folder / f"{name}.html" for name in made}
