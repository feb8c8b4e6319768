"""The sidereal rate stands once in Python and once in the browser; no other number repeats it."""

from __future__ import annotations

import io
import re
import tokenize
from pathlib import Path

from axletree.sky.time.instants import (
    SIDEREAL_DAY_S,
    SIDEREAL_DAYS_PER_DAY,
    SIDEREAL_HOURS_PER_S,
    SIDEREAL_RATE_ARCSEC_PER_S,
)

SOURCE = Path(__file__).parents[2] / "src" / "axletree"
HOMES = {"sky/time/instants.py", "app/static/shared/clock.js"}
# In every unit that somebody could write.
RATES = [
    SIDEREAL_DAYS_PER_DAY, 1.0 / SIDEREAL_DAYS_PER_DAY, SIDEREAL_DAY_S, SIDEREAL_DAY_S / 3600.0,
    SIDEREAL_HOURS_PER_S, SIDEREAL_RATE_ARCSEC_PER_S, SIDEREAL_RATE_ARCSEC_PER_S / 60.0,
    SIDEREAL_RATE_ARCSEC_PER_S / 3600.0, SIDEREAL_RATE_ARCSEC_PER_S * 60.0,
]  # fmt: skip
# Written shorter it is the same number still: 15.041 is 5e-6 off.
ALIKE = 1e-5


def repeats(number: float) -> bool:
    """Whether a number is the sidereal rate, typed."""
    return any(abs(number / rate - 1.0) < ALIKE for rate in RATES)


WRITTEN = re.compile(r"\d+\.?\d*(?:[eE][-+]?\d+)?|\.\d+(?:[eE][-+]?\d+)?")


def numbers_of(file: Path) -> list[float]:
    """The numbers in the code of a file, comments and sentences left aside; [] without a rate."""
    text = file.read_text(encoding="utf-8")
    # Most files hold no such word anywhere, which is sooner seen than tokens are made.
    if not any(map(repeats, filter(None, map(float, WRITTEN.findall(text.replace("_", "")))))):
        return []
    if file.suffix == ".py":
        tokens = tokenize.generate_tokens(io.StringIO(text).readline)
        written = [t.string for t in tokens if t.type == tokenize.NUMBER]
    else:
        bare = re.sub(r"//.*|/\*.*?\*/", "", text)
        written = re.findall(r"(?<![\w.])\d+(?:\.\d+)?\b", bare)
    found = []
    for word in written:
        try:
            found.append(float(word.replace("_", "")))
        except ValueError:  # hexadecimal or complex: no rate
            continue
    return [n for n in found if n]


FILES = sorted(f for f in SOURCE.rglob("*") if f.suffix in (".py", ".js"))


def test_typed_rates_would_be_found() -> None:
    assert all(map(repeats, (15.041, 1.0027379, 86164.1, 0.99727, 15.04107, 0.2506845)))
    assert not any(map(repeats, (15.0, 86400.0, 1.0, 15.0369, 14.4921)))
    assert len(FILES) > 300
    for home in HOMES:
        assert any(map(repeats, numbers_of(SOURCE / home))), home


def test_nobody_else_types_the_sidereal_rate() -> None:
    typed = {
        str(file.relative_to(SOURCE)): list(filter(repeats, numbers_of(file))) for file in FILES
    }
    assert {name for name, rates in typed.items() if rates} == HOMES
