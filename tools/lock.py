"""Write the locks anew from pyproject.toml: versions, SHA-256 hashes, markers for each Python.

python tools/lock.py        needs the package index and the resolver `uv`; `make lock` brings it

All that is run, tested and built is resolved in one go, for every system and for every Python from
`requires-python` on, and becomes requirements-test.lock. The other locks are parts of it with the
same versions, so that what is tested is what is installed:

requirements.lock           what a person needs to run
requirements-NAME.lock      what the extra NAME needs, what it shares with the others included
requirements-build.lock     what builds Axletree itself, as a wheel or in place
requirements-node.lock      Node for the checks of the browser's modules; resolved by itself

Where no version of a package serves all Pythons, the lock names several, each with its marker.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
WHOLE = "requirements-test.lock"
# A group of pyproject.toml that is for tools beside Python gets a lock that is not in the whole.
APART = {"node"}
HEAD = """\
# {what}, pinned, with SHA-256 hashes. Made by 'make lock';
# installed by 'pip install --require-hashes -r {file}'; audited, without a network,
# by 'python tools/check_dependencies.py'.
"""


def locks(project: dict[str, object]) -> dict[str, tuple[str, list[str]]]:
    """For each lock its first words and what the resolver is asked, the whole one first."""
    table = project["project"]
    groups = project["dependency-groups"]
    assert isinstance(table, dict)
    assert isinstance(groups, dict)
    extras = [e for e in table["optional-dependencies"] if e != "test"]
    inside = [g for g in groups if g not in APART]
    everything = [w for e in [*extras, "test"] for w in ("--extra", e)]
    everything += [w for g in inside for w in ("--group", g)]
    found = {
        WHOLE: ("Everything that Axletree needs to run, be tested and be built",
                ["pyproject.toml", *everything]),
        "requirements.lock": ("Everything that Axletree needs to run", ["pyproject.toml"]),
    }  # fmt: skip
    for extra in extras:
        asked = "\n".join(table["optional-dependencies"][extra])
        found[f"requirements-{extra}.lock"] = (f"What the extra '{extra}' needs", ["-", asked])
    for group in groups:
        what = f"What the group '{group}' of pyproject.toml needs"
        found[f"requirements-{group}.lock"] = (what, ["--group", group])
    return found


def compile_lock(file: str, what: str, asked: list[str], uv: str, python: str) -> None:
    """Resolve one lock and write it; nothing is written if that fails."""
    apart = any(file == f"requirements-{name}.lock" for name in APART)
    tied = [] if file == WHOLE or apart else ["--constraints", WHOLE]
    given = asked[1] if asked[0] == "-" else None
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / file
        subprocess.run(
            [uv, "pip", "compile", "--quiet", "--universal", "--python-version", python,
             "--generate-hashes", "--no-header", "--no-emit-index-url", "--no-emit-find-links",
             "--custom-compile-command", "make lock", *tied,
             "--output-file", str(out), *(asked[:1] if given is not None else asked)],
            cwd=ROOT, check=True, text=True, input=given, stdout=subprocess.DEVNULL,
        )  # fmt: skip
        text = HEAD.format(what=what, file=file) + out.read_text(encoding="utf-8")
    (ROOT / file).write_text(text, encoding="utf-8")


def main() -> int:
    """Write every lock; exit status 1 if the resolver is missing or finds no solution."""
    uv = shutil.which("uv", path=str(Path(sys.executable).parent)) or shutil.which("uv")
    if uv is None:
        print("the resolver is missing; 'make lock' installs it", file=sys.stderr)
        return 1
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    python = project["project"]["requires-python"].removeprefix(">=")
    for file, (what, asked) in locks(project).items():
        print(f"lock: {file}", flush=True)
        try:
            compile_lock(file, what, asked, uv, python)
        except subprocess.CalledProcessError:
            print(f"{file} could not be resolved; the resolver's words stand above, "
                  "and the lock stays as it was", file=sys.stderr)  # fmt: skip
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
