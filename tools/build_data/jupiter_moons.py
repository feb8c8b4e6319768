"""How do Jupiter's four bright moons move?  The series of Lainey, Duriez and Vienne as data.

The package carries the authors' theory L1.2 with its small terms left out. Only the numbers are
taken: amplitudes, phases, frequencies, masses and the turn from Jupiter's equator to the ICRS.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from astronomy import astronomy

NAMES = ("io", "europa", "ganymede", "callisto")


def rows(series: object) -> list[list[float]]:
    """Terms as amplitude, phase (rad), frequency (rad a day)."""
    return [list(term) for term in series.series]


def main(out: Path) -> None:
    moons = {
        name: {
            "gm_au3_per_day2": model.mu,
            "longitude_rad": [model.al0, model.al1],
            "a_au": rows(model.a),
            "longitude_terms_rad": rows(model.l),
            "eccentricity": rows(model.z),
            "half_inclination": rows(model.zeta),
        }
        for name, model in zip(NAMES, astronomy._JupiterMoonModel, strict=True)
    }
    # Its rows are the images of Jupiter's x, y, z; ours is the matrix that turns column vectors.
    turn = [list(column) for column in zip(*astronomy._Rotation_JUP_EQJ.rot, strict=True)]
    document = {"epoch_tt_jd": 2433282.5, "to_icrs": turn, "moons": moons}
    (out / "jupiter_moons.json").write_text(json.dumps(document, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
