"""Are the dependencies declared, pinned, hashed and licensed as they should be? Needs no network.

Looks at the code's own imports, at pyproject.toml, at the locks and at what is installed:
* every package that the code imports is declared, every declared one is used,
* nothing that is meant for tests is imported by the code,
* what an extra brings is imported inside functions only, so that the code runs without it,
* every package in the locks is pinned to one version and has SHA-256 hashes; requirements.lock
  holds all that is declared and all that those need, requirements-fast.lock the same for the
  extra, and both agree,
* every one of them is under a licence of the list below.

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
FAST_LOCK = ROOT / "requirements-fast.lock"
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


def declared(project: dict[str, object]) -> tuple[set[str], set[str], set[str]]:
    """Names needed to run, those of the extra `fast`, and those needed to test."""
    table = project["project"]
    assert isinstance(table, dict)
    extras = table.get("optional-dependencies", {})
    groups = (table["dependencies"], extras.get("fast", []), extras.get("test", []))
    run, fast, test = ({named(r) for r in group} for group in groups)
    return run, fast, test


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


def locked(text: str) -> dict[str, tuple[str, int]]:
    """Version ('' if not pinned) and number of hashes of every package in the lock."""
    found: dict[str, tuple[str, int]] = {}
    joined = re.sub(r"\\\s*\n\s*", " ", text)
    for line in joined.splitlines():
        line = line.strip()
        if not line or line.startswith("#"):
            continue
        pinned = re.match(r"[A-Za-z0-9._-]+(?:\[[^\]]*\])?==([^\s;]+)", line)
        hashes = re.findall(r"--hash=sha256:[0-9a-f]{64}\b", line)
        found[named(line)] = (pinned[1] if pinned else "", len(hashes))
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
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    lock = locked(LOCK.read_text(encoding="utf-8"))
    fast_lock = locked(FAST_LOCK.read_text(encoding="utf-8"))
    run, fast, _ = declared(project)
    wrong = import_problems(*declared(project))
    wrong += lock_problems(LOCK.name, lock, run, lock)
    wrong += lock_problems(FAST_LOCK.name, fast_lock, fast, lock | fast_lock)
    for name in sorted(lock.keys() & fast_lock.keys()):
        if lock[name][0] != fast_lock[name][0]:
            wrong.append(f"{name} is pinned to another version in {FAST_LOCK.name}")
    return wrong


def import_problems(run: set[str], fast: set[str], test: set[str]) -> list[str]:
    """What is wrong with the code's own imports."""
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


Lock = dict[str, tuple[str, int]]


def lock_problems(file: str, lock: Lock, asked: set[str], whole: Lock) -> list[str]:
    """What is wrong with one lock, which is to hold what is asked; `whole`: all that is locked."""
    wrong: list[str] = []
    for name, (version, hashes) in sorted(lock.items()):
        if not version:
            wrong.append(f"{name} is not pinned to one version in {file}")
        if not hashes:
            wrong.append(f"{name} has no SHA-256 hash in {file}")
        said = licence(name)
        if not said:
            wrong.append(f"{name}: no licence is stated, or it is not installed")
        elif not ALLOWED.search(said):
            wrong.append(f"{name}: licence '{said[:60]}' is not on the list")
    wrong += [f"{n} is missing from {file}" for n in sorted(asked - lock.keys())]
    for name in sorted(lock):
        missing = needed_by(name) - whole.keys()
        wrong += [f"{m}, needed by {name}, is missing from {file}" for m in missing]
    return wrong


def main() -> int:
    """Print what is wrong."""
    wrong = problems()
    for line in wrong:
        print(line)
    names = {n for f in (LOCK, FAST_LOCK) for n in locked(f.read_text(encoding="utf-8"))}
    print(f"{len(names)} packages in the locks, {len(wrong)} problems")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
