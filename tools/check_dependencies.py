"""Are the dependencies declared, pinned, hashed and licensed as they should be? Needs no network.

Looks at the code's own imports, at pyproject.toml, at requirements.lock and at what is installed:
* every package that the code imports is declared, every declared one is used,
* nothing that is meant for tests is imported by the code,
* every package in the lock is pinned to one version and has SHA-256 hashes, and the lock holds
  all that is declared and all that those need,
* every one of them is under a licence of the list below.

python tools/check_dependencies.py      prints what is wrong; exit status 1 if anything is
make lock                               writes requirements.lock anew (needs the package index)
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).parents[1]
LOCK = ROOT / "requirements.lock"
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


def declared(project: dict[str, object]) -> tuple[set[str], set[str]]:
    """Names needed to run, and those needed to test."""
    table = project["project"]
    assert isinstance(table, dict)
    run = {named(r) for r in table["dependencies"]}
    extras = table.get("optional-dependencies", {})
    return run, {named(r) for group in extras.values() for r in group}


def imported(folder: Path) -> dict[str, set[str]]:
    """Top-level packages that code imports, with the files that do."""
    found: dict[str, set[str]] = {}
    for file in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
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
    run, test = declared(project)
    lock = locked(LOCK.read_text(encoding="utf-8"))
    wrong: list[str] = []
    owners = metadata.packages_distributions()
    used: set[str] = set()
    for module, files in imported(ROOT / "src").items():
        if module in sys.stdlib_module_names or module in ("axletree", "__future__"):
            continue
        holders = {named(d) for d in owners.get(module, [module])}
        used |= holders
        if not holders & run:
            kind = "is for tests only" if holders & test else "is not declared"
            wrong.append(f"{module} {kind}, and {sorted(files)[0]} imports it")
    wrong += [f"{n} is declared and never imported" for n in sorted(run - used - WITHOUT_IMPORT)]
    for name, (version, hashes) in sorted(lock.items()):
        if not version:
            wrong.append(f"{name} is not pinned to one version in requirements.lock")
        if not hashes:
            wrong.append(f"{name} has no SHA-256 hash in requirements.lock")
        said = licence(name)
        if not said:
            wrong.append(f"{name}: no licence is stated, or it is not installed")
        elif not ALLOWED.search(said):
            wrong.append(f"{name}: licence '{said[:60]}' is not on the list")
    wrong += [f"{n} is missing from requirements.lock" for n in sorted(run - lock.keys())]
    for name in sorted(lock):
        missing = needed_by(name) - lock.keys()
        wrong += [f"{m}, needed by {name}, is missing from requirements.lock" for m in missing]
    return wrong


def main() -> int:
    """Print what is wrong."""
    wrong = problems()
    for line in wrong:
        print(line)
    count = len(locked(LOCK.read_text(encoding="utf-8")))
    print(f"{count} packages in the lock, {len(wrong)} problems")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
