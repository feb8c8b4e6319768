"""Are the dependencies declared, pinned, hashed and licensed as they should be? Needs no network.

Looks at the code's own imports, at pyproject.toml, at the locks and at what is installed:
* every package that the code imports is declared, every declared one is used,
* nothing that is meant for tests is imported by the code,
* what an extra brings is imported inside functions only, so that the code runs without it,
* every package in the locks is pinned, to one version for each Python, and has SHA-256 hashes;
  requirements.lock holds all that is declared and all that those need, requirements-NAME.lock the
  same for the extra NAME, requirements-test.lock for the tests, and all agree,
* all that a person installs, extras included, is under a licence of the list below.

python tools/check_dependencies.py      prints what is wrong; exit status 1 if anything is
make lock                               writes the locks anew (needs the package index)
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).parents[1]
LOCK = ROOT / "requirements.lock"
EXTRA_LOCKS = {
    file.stem.removeprefix("requirements-"): file for file in ROOT.glob("requirements-*.lock")
}
# Used without an import of their own: data for the standard library's zoneinfo.
WITHOUT_IMPORT = {"tzdata"}
# Licences that allow what this project's own does, by SPDX name or as packages write them.
ALLOWED = re.compile(
    r"MIT|BSD|0BSD|Apache|ISC|PSF|Python Software Foundation|Unlicense|Zlib|MPL-2\.0|"
    r"Mozilla Public License 2\.0|HPND|CC0",
    re.IGNORECASE,
)


def named(requirement: str) -> str:
    """The normalized name at the head of a requirement (PEP 503)."""
    found = re.match(r"[A-Za-z0-9._-]+", requirement.strip())
    return re.sub(r"[-_.]+", "-", found[0]).lower() if found else ""


def declared(project: dict[str, object]) -> tuple[set[str], dict[str, set[str]], set[str]]:
    """Names needed to run, those of each extra for persons, and those needed to test."""
    table = project["project"]
    assert isinstance(table, dict)
    extras = {
        extra: {named(r) for r in group}
        for extra, group in table.get("optional-dependencies", {}).items()
    }
    test = extras.pop("test", set())
    return {named(r) for r in table["dependencies"]}, extras, test


def walk(node: ast.AST, into_functions: bool) -> Iterator[ast.AST]:
    """All nodes below one; with those inside of functions or without."""
    for child in ast.iter_child_nodes(node):
        yield child
        if into_functions or not isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
            yield from walk(child, into_functions)


def imported(folder: Path, *, into_functions: bool = True) -> dict[str, set[str]]:
    """Top-level packages that code imports, with the files that do."""
    found: dict[str, set[str]] = {}
    for file in sorted(folder.rglob("*.py")):
        for node in walk(ast.parse(file.read_text(encoding="utf-8")), into_functions):
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
                names = [node.module]
            else:
                continue
            for name in names:
                found.setdefault(name.split(".")[0], set()).add(str(file.relative_to(folder)))
    return found


Lock = dict[str, tuple[str, int]]


def locked(text: str) -> Lock:
    """Version and fewest hashes of every package in a lock.

    Several versions, each for some Pythons, are joined by spaces; '' if one is not pinned.
    """
    found: Lock = {}
    joined = re.sub(r"\\\s*\n\s*", " ", text)
    for line in joined.splitlines():
        line = line.strip()
        if not line or line.startswith("#"):
            continue
        name = named(line)
        pinned = re.match(r"[A-Za-z0-9._-]+(?:\[[^\]]*\])?==([^\s;]+)", line)
        hashes = len(re.findall(r"--hash=sha256:[0-9a-f]{64}\b", line))
        if name in found:
            before, fewest = found[name]
            both = f"{before} {pinned[1]}" if before and pinned else ""
            found[name] = (both, min(fewest, hashes))
        else:
            found[name] = (pinned[1] if pinned else "", hashes)
    return found


def needed_by(name: str) -> set[str]:
    """What an installed package needs here, without extras; nothing if it isn't installed."""
    try:
        requirements = metadata.requires(name) or []
    except metadata.PackageNotFoundError:
        return set()
    return {
        named(r)
        for r in requirements
        if "extra ==" not in r and _here(r.split(";", 1)[1] if ";" in r else "")
    }


def _here(marker: str) -> bool:
    """Whether a condition on the system holds here, as far as packages use them."""
    words = marker.replace('"', "'")
    if "sys_platform == 'win32'" in words or "platform_system == 'Windows'" in words:
        return sys.platform == "win32"
    older = re.search(r"python_(?:full_)?version < '3\.(\d+)", words)
    if older:
        return sys.version_info < (3, int(older[1]))
    return "emscripten" not in words or "!=" in words


def licence(name: str) -> str:
    """The licence that an installed package states, '' if it states none or isn't installed."""
    try:
        about = metadata.metadata(name)
    except metadata.PackageNotFoundError:
        return ""
    said = [about.get("License-Expression") or "", (about.get("License") or "")[:100]]
    said += [c for c in about.get_all("Classifier") or [] if c.startswith("License ::")]
    return "; ".join(s for s in said if s and s != "UNKNOWN")


def problems() -> list[str]:
    """Everything that is wrong, one line each."""
    run, extras, test = declared(_project())
    return import_problems(run, set().union(*extras.values()), test) + problems_of_locks()


def _project() -> dict[str, object]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def problems_of_locks() -> list[str]:
    """What is wrong with all locks, each by itself and beside the others."""
    run, extras, test = declared(_project())
    lock = locked(LOCK.read_text(encoding="utf-8"))
    others = {name: locked(f.read_text(encoding="utf-8")) for name, f in EXTRA_LOCKS.items()}
    wrong = lock_problems(LOCK.name, lock, run, lock)
    wrong += licence_problems(lock)
    for extra, asked in extras.items():
        if extra not in others:
            wrong.append(f"the extra {extra} has no lock of its own")
            continue
        own = others[extra]
        wrong += lock_problems(EXTRA_LOCKS[extra].name, own, asked, lock | own)
        wrong += licence_problems({n: own[n] for n in own.keys() - lock.keys()})
    if "test" not in others:
        wrong.append("the tests have no lock of their own")
    whole = others.get("test", {})
    for name, own in others.items():
        asked = run.union(test, *extras.values()) if name == "test" else set()
        if name not in extras:
            wrong += lock_problems(EXTRA_LOCKS[name].name, own, asked, own)
    for file, other in [(LOCK, lock), *((EXTRA_LOCKS[n], o) for n, o in others.items())]:
        for name in sorted(whole.keys() & other.keys()):
            if whole[name][0] != other[name][0]:
                wrong.append(f"{name} is pinned to another version in {file.name}")
    return wrong


def import_problems(run: set[str], fast: set[str], test: set[str]) -> list[str]:
    """What is wrong with the code's own imports; `fast`: all that comes with extras."""
    wrong: list[str] = []
    owners = metadata.packages_distributions()
    at_once = imported(ROOT / "src", into_functions=False)
    used: set[str] = set()
    for module, files in imported(ROOT / "src").items():
        if module in sys.stdlib_module_names or module in ("axletree", "__future__"):
            continue
        holders = {named(d) for d in owners.get(module, [module])}
        used |= holders
        if holders & fast:
            if module in at_once:
                first = sorted(at_once[module])[0]
                wrong.append(f"{module} is an extra, and {first} imports it outside of a function")
        elif not holders & run:
            kind = "is for tests only" if holders & test else "is not declared"
            wrong.append(f"{module} {kind}, and {sorted(files)[0]} imports it")
    unused = (run | fast) - used - WITHOUT_IMPORT
    return wrong + [f"{n} is declared and never imported" for n in sorted(unused)]


def lock_problems(file: str, lock: Lock, asked: set[str], whole: Lock) -> list[str]:
    """What is wrong with one lock, which is to hold what is asked; `whole`: all that is locked."""
    wrong: list[str] = []
    for name, (version, hashes) in sorted(lock.items()):
        if not version:
            wrong.append(f"{name} is not pinned to one version in {file}")
        if not hashes:
            wrong.append(f"{name} has no SHA-256 hash in {file}")
    wrong += [f"{n} is missing from {file}" for n in sorted(asked - lock.keys())]
    for name in sorted(lock):
        missing = needed_by(name) - whole.keys()
        wrong += [f"{m}, needed by {name}, is missing from {file}" for m in missing]
    return wrong


def licence_problems(lock: Lock) -> list[str]:
    """What is wrong with the licences of one lock's packages."""
    wrong: list[str] = []
    for name in sorted(lock):
        said = licence(name)
        if not said:
            wrong.append(f"{name}: no licence is stated, or it is not installed")
        elif not ALLOWED.search(said):
            wrong.append(f"{name}: licence '{said[:60]}' is not on the list")
    return wrong


def main() -> int:
    """Print what is wrong."""
    wrong = problems()
    for line in wrong:
        print(line)
    files = [LOCK, *EXTRA_LOCKS.values()]
    names = {name for file in files for name in locked(file.read_text(encoding="utf-8"))}
    print(f"{len(names)} packages in the locks, {len(wrong)} problems")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
