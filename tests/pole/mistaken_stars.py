"""How often is the axis wrong without a word, when one star of a drift file is mistaken?

Sites, axes, stars, drifts and mistakes come from the simulator; the solver's own code is asked
for its answer only. `python tests/pole/mistaken_stars.py 400` prints the whole table.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))

import simulator as sim

from axletree.pole.drift.solve import DriftSolution, WatchedStars, solve_drift
from axletree.pole.solution.doubt import DoubtKind
from axletree.sky.observer import Observer

MISTAKES = ("40-60 arcsec off", "halved", "doubled", "reversed")
KINDS = ("honest", *MISTAKES)
COUNTS = (3, 4, 5, 6)
SIGMA_ARCSEC = 2.0
# Chi-square of two degrees of freedom, -2 ln(1 - p): the border of the 99.9 % ellipse.
BORDER = -2.0 * np.log(0.001)


@dataclass
class Tally:
    """What came of the runs of one kind: how many, and how many of them..."""

    runs: int = 0
    outside: int = 0  # the true axis outside the 99.9 % ellipse
    silent: int = 0  # outside, and no doubt of any kind stated
    blamed: int = 0  # a star called wrong, settled or suspected
    unchecked: int = 0  # only: a mistake in some star would hardly show
    named: int = 0  # the mistaken star among those named in either way

    def add(self, found: DriftSolution, off: np.ndarray, wrong: int | None) -> None:
        """One run: the solver's answer, its error in arcminutes, the mistaken star."""
        outside = off @ found.estimate.information @ off > BORDER
        disagreeing = found.doubt(DoubtKind.DISAGREEING)
        weak = found.doubt(DoubtKind.UNCHECKED)
        settled = found.taken_reversed + found.left_out
        told = {*settled, *(weak.rows if weak else ())}
        if disagreeing:
            told |= {k for e in disagreeing.explanations for k in e.rows}
        self.runs += 1
        self.outside += bool(outside)
        self.silent += bool(outside and not found.doubts)
        self.blamed += bool(disagreeing or settled)
        self.unchecked += bool(weak and not disagreeing and not settled)
        self.named += wrong in told

    def __add__(self, other: Tally) -> Tally:
        return Tally(*(a + b for a, b in zip(self.line(), other.line(), strict=True)))

    def line(self) -> tuple[int, ...]:
        """All figures in order."""
        return (
            self.runs, self.outside, self.silent, self.blamed, self.unchecked, self.named
        )  # fmt: skip


def least_shown(place, hour_angle_h, seconds):
    """Least part of any star's own error that shows, from the rule of the meridian alone.

    drift = -(east cos H + high sin H) angle turned (J. Scheiner 1897), H half way through; what
    the two unknowns can't absorb is the orthogonal complement of their two columns.
    """
    half = np.radians(15.0 * (hour_angle_h + seconds * sim.SIDEREAL / 7200.0))
    q, _ = np.linalg.qr((np.stack([np.sin(half), np.cos(half)]) * seconds).T)
    return float(np.sqrt(np.min(1.0 - np.sum(q**2, axis=1))))


def chosen_stars(rng, place, count, checked):
    """Hour angles, declinations and watches: as they come, or so that all check each other."""
    for _ in range(1000):
        H, d = sim.random_stars(rng, place, count)
        seconds = rng.uniform(300.0, 900.0, count)
        if len(H) == count and (not checked or least_shown(place, H, seconds) > 0.51):
            return H, d, seconds
    raise AssertionError("no such stars stand high enough")


def one_run(rng, kind, count, checked, hemisphere):
    """(the solver's answer, its error (high, east) in arcminutes, the mistaken star or None)."""
    place = sim.random_place(rng, 60.0)
    place.latitude_deg = hemisphere * min(abs(place.latitude_deg), 60.0)
    H, d, seconds = chosen_stars(rng, place, count, checked)
    drift = sim.drift_arcsec(place, H, d, seconds) + rng.normal(0.0, SIGMA_ARCSEC, count)
    wrong = int(rng.integers(count))
    if kind == "40-60 arcsec off":
        drift[wrong] += rng.uniform(40.0, 60.0) * rng.choice([-1.0, 1.0])
    else:
        drift[wrong] *= {"honest": 1.0, "halved": 0.5, "doubled": 2.0, "reversed": -1.0}[kind]
    observer = Observer(
        place.latitude_deg, 0.0, pressure_hpa=place.pressure_hpa, temperature_c=place.temperature_c
    )
    found = solve_drift(WatchedStars(H, d, seconds, drift, SIGMA_ARCSEC), observer)
    off = found.estimate.values - [place.high_arcmin, place.east_arcmin]
    return found, off, None if kind == "honest" else wrong


def tally(seed, kind, count, checked, runs):
    """The tally of `runs` cases, north and south of the equator in turn."""
    rng = np.random.default_rng([seed, KINDS.index(kind), count, int(checked)])
    total = Tally()
    for k in range(runs):
        total.add(*one_run(rng, kind, count, checked, 1.0 if k % 2 else -1.0))
    return total


def main() -> None:
    """The whole table, in percent."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    head = f"{'kind':<18}{'stars':>6}{'outside':>9}{'silent':>8}{'blamed':>8}{'unchecked':>11}"
    for checked in (True, False):
        print("stars that check each other" if checked else "stars as they come", f"({runs} runs)")
        print(f"{head}{'named':>7}")
        for kind in KINDS:
            for count in COUNTS:
                found = tally(1, kind, count, checked, runs)
                share = [100.0 * v / found.runs for v in found.line()[1:]]
                print(
                    f"{kind:<18}{count:>6}{share[0]:>8.1f} {share[1]:>7.1f} {share[2]:>7.1f} "
                    f"{share[3]:>10.1f} {share[4]:>6.1f}",
                    flush=True,
                )


if __name__ == "__main__":
    main()
