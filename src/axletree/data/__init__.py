"""Where do the shipped data files lie?

``data_path(name)`` gives the path of one built or hand-kept file; SOURCES.md beside this module
says for each where it comes from and under which licence.
"""

from __future__ import annotations

from pathlib import Path

_HERE = Path(__file__).parent


def data_path(name: str) -> Path:
    """Path of the shipped file `name`; refuses a name that is not there."""
    path = _HERE / name
    if not path.is_file():
        raise FileNotFoundError(f"no data file {name!r} in the package: it is incomplete")
    return path
