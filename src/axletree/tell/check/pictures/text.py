"""In which words are recognised pictures told?"""

from __future__ import annotations

import math

from axletree.pole.photographs.lens import field_deg
from axletree.pole.photographs.run import rms
from axletree.stages.set_up.pictures_finding import PicturesFinding
from axletree.tell.check.turns_text import farther_apart_words, middle_cell, turned_cells
from axletree.tell.shared.words import signed

CLOCK = (
    "The camera's clock is taken as right: a minute wrong shifts the answer by 0.44 % of the "
    "axis's distance from the pole."
)


def pictures_table(finding: PicturesFinding) -> list[str]:
    """One line a picture that was recognised, below a line of headings."""
    solved = finding.solved
    table = ["picture              middle, UTC           stars  altitude    turned   misfit"]
    for k, one in enumerate(finding.run.recognised):
        turned, misfit = turned_cells(solved, k)
        table.append(
            f"{one.name[:20]:<20} {middle_cell(finding.moments[k])}  {len(one.stars):>5}  "
            f"{solved.altitude_deg[k]:>7.1f}°  {turned:>8}  {misfit:>7}"
        )
    return table


def picture_facts(finding: PicturesFinding) -> list[str]:
    """The field, the lens and how well the stars fit."""
    run = finding.run
    wide, tall = (field_deg(length, run.lens.focal_px) for length in run.size_px)
    corner = run.lens.bend_at(math.hypot(*run.size_px) / 2.0)
    misfit = max(rms(one.misfit_px) for one in run.recognised)
    scale = 3600.0 * math.degrees(1.0 / run.lens.focal_px)
    arcs = f"The turn drew {finding.arcs} arcs that tell the axis. " if finding.arcs else ""
    return [
        f"{arcs}Field {wide:.2f}° x {tall:.2f}°, {scale:.1f}″ a pixel as read "
        f"({run.size_px[0]} x {run.size_px[1]}); the lens shifts the corners by "
        f"{signed(100.0 * corner, 2)} %.",
        f"Stars fit to {misfit:.2f} pixels each way. The pictures are not kept.",
        f"A camera's clock off by {finding.clock_sigma_s:.0f} s makes "
        f"{finding.clock_arcmin:.2f}′ of it, which the error reckons with.",
    ]


def pictures_next(finding: PicturesFinding) -> str:
    """What more pictures would bring, '' if nothing special."""
    if finding.arcs:
        return "Three pictures at rest, the axis turned between them, tell it several times better."
    said = farther_apart_words(finding.narrow_turn_h, "pictures")
    if len(finding.run.recognised) == 2:
        said.append("Two pictures check nothing: a third shows whether anything slipped.")
    return " ".join(said)
