"""Below the words floor nothing is said: no string there is a sentence (`sentences` says which).

Names of things and phrases that a refusal is put together from are listed, module by module.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from sentences import sentences

HOUSE = Path(__file__).parents[1] / "src" / "axletree"
BELOW = ("kit", "sky", "ground", "mount", "pole", "find", "evening", "stages", "logbook")
# Files whose text is what they are about.
WRITTEN = {
    "kit/writing/template_words.py": "the text of a kit file, with its remarks",
    "sky/special/shower_list.py": "the table of the meteor showers, with their names",
    "sky/catalogue/constellations.py": "the table of the constellations' names",
}
# Kinds of objects and themes as the data name them, compared and looked up but never shown raw.
KINDS = ("cluster with nebula", "moon and planets")
NAMES_AND_REFUSALS: dict[str, tuple[str, ...]] = {
    "mount/rig/tripod.py": ("leg towards the pole",),
    "mount/steady/tipping.py": ("leg towards the pole",),
    "sky/catalogue/everyday.py": ("Large Magellanic Cloud", "Small Magellanic Cloud"),
    "pole/aim/axis_view.py": ("bore_diameter_mm and bore_length_mm make a field",),
    "pole/aim/stars_near_pole.py": ("Sigma Octantis group",),
    "pole/enough/need.py": ("an eyepiece in mm",),
}
SOURCES = {
    path.relative_to(HOUSE).as_posix(): path.read_text(encoding="utf-8")
    for room in BELOW
    for path in sorted((HOUSE / room).rglob("*.py"))
}


def test_nothing_is_said_below_the_words_floor() -> None:
    assert len(SOURCES) > 150
    said = {
        path: tuple(text for text in texts if text not in KINDS)
        for path, texts in sentences(SOURCES).items()
        if path not in WRITTEN
    }
    said = {path: texts for path, texts in said.items() if texts}
    assert said == NAMES_AND_REFUSALS


def test_what_is_allowed_is_still_there() -> None:
    assert SOURCES.keys() >= WRITTEN.keys()
    for kind in KINDS:
        assert any(f'"{kind}"' in source for source in SOURCES.values())


@pytest.mark.parametrize(
    "source",
    [
        'words = "nothing is known of it"',
        'def words(at: float) -> str:\n    return f"from {at:.0f}° to the west"',
        'class Why(Enum):\n    LOW = "The Moon is too low."',
        'def note(a: str) -> None:\n    said = "it is far away"\n    if a:\n'
        "        raise ValueError(said)\n    print(said)",
        'def told() -> str:\n    return "it is far away"\n\ndef ask() -> None:\n    print(told())\n'
        "    raise ValueError(told())",
    ],
)
def test_sentences_that_are_found(source: str) -> None:
    assert len(sentences({"a.py": source})["a.py"]) == 1


@pytest.mark.parametrize(
    "source",
    [
        '"""What is this about, and why?"""',
        'def a() -> int:\n    """How many of them are there?"""\n    return 1',
        'raise AxletreeError(f"{x} is more than {y} can be")',
        'def a(x: str) -> None:\n    words = "it is far away"\n    if x:\n'
        "        words = x + words\n    raise ValueError(words)",
        'def told() -> str:\n    return "it is far away"\n\ndef ask() -> None:\n'
        "    raise ValueError(told())",
        'def refusal() -> RowError:\n    problem = "it is far away"\n    return RowError(problem)',
        "class FarError(ValueError):\n    def __init__(self) -> None:\n"
        '        super().__init__("it is far away")',
        'class Kind(Enum):\n    LOW = "sun on the meridian"',
        'rows = ask("SELECT id FROM evening ORDER BY id")',
        'found = re.search(r"File expires on (\\d+)", text)',
        'row = f"{a} and {b} or {c}: {d}"',
        'keys = ("mount.tripod.top_height_mm", "leg_directions_deg")',
    ],
)
def test_strings_that_are_no_sentences(source: str) -> None:
    assert sentences({"a.py": source}) == {}
