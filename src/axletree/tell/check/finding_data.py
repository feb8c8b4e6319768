"""What does a program get to know about one measurement of the axis, and about its estimate?"""

from __future__ import annotations

import math
from typing import Any, cast

import numpy as np

from axletree.axis.unknowns import CIRCLES, UNKNOWNS
from axletree.pole.frames.solve import FramesSolution
from axletree.pole.photographs.lens import field_deg
from axletree.pole.photographs.run import rms
from axletree.pole.readings.solve import ReadingsSolution
from axletree.pole.solution.estimate import AxisEstimate
from axletree.stages.set_up.check_findings import (
    DriftFinding,
    Finding,
    FramesFinding,
    ReadingsFinding,
)
from axletree.stages.set_up.pictures_finding import PicturesFinding
from axletree.tell.check.forms import (
    EstimateData,
    FindingData,
    OfMethodData,
    RemarkData,
)
from axletree.tell.check.measured_text import remark_words


def finding_data(finding: Finding) -> FindingData:
    """What one measurement says by itself."""
    remarks = finding.remarks
    base = {
        "method": finding.method.value,
        "source": finding.source,
        **estimate_data(finding.estimate),
        "chance_of_worse_fit": finding.solved.chance,
        "degrees_of_freedom": finding.solved.dof,
        "remark_codes": [
            RemarkData(code=remark.kind.value, rows=list(remark.rows), circle=remark.circle)
            for remark in remarks
        ],
        "remarks": remark_words(finding),
    }
    if isinstance(finding, DriftFinding):
        return cast(FindingData, {**base, **_of_drifts(finding)})
    if isinstance(finding, ReadingsFinding):
        return cast(FindingData, {**base, **_of_readings(finding)})
    if isinstance(finding, PicturesFinding):
        return cast(FindingData, {**base, **_of_pictures(finding)})
    return cast(FindingData, {**base, **_of_frames(finding)})


def estimate_data(estimate: AxisEstimate) -> EstimateData:
    """How far the axis is off, and how well that is known."""
    covariance = estimate.covariance
    ellipse = estimate.ellipse(0.95)
    line_deg = across = None
    if estimate.rank == 1:
        sizes, directions = np.linalg.eigh(estimate.information)
        high, east = directions[:, 0]
        line_deg = float(np.degrees(np.arctan2(high, east)))
        across = float(1.0 / np.sqrt(sizes[-1]))
    return {
        "rank": estimate.rank,
        "high_arcmin": estimate.high_arcmin,
        "east_arcmin": estimate.east_arcmin,
        "high_sigma_arcmin": finite_or_none(estimate.high_sigma_arcmin),
        "east_sigma_arcmin": finite_or_none(estimate.east_sigma_arcmin),
        "total_arcmin": estimate.total_arcmin,
        "total_sigma_arcmin": finite_or_none(estimate.total_sigma_arcmin),
        "line_deg": line_deg,
        "across_line_sigma_arcmin": across,
        "covariance_arcmin2": None if covariance is None else covariance.tolist(),
        "ellipse_95": None
        if ellipse is None
        else {
            "long_arcmin": ellipse.long_arcmin,
            "short_arcmin": ellipse.short_arcmin,
            "turn_deg": ellipse.turn_deg,
        },
    }


def finite_or_none(value: float) -> float | None:
    """The number, None where it is infinite or not a number (JSON has neither)."""
    return float(value) if math.isfinite(value) else None


def _of_drifts(finding: DriftFinding) -> OfMethodData:
    rows, solved = finding.rows, finding.solved
    return {
        "stars": [
            {
                "star": name,
                "line": rows.lines[k],
                "hour_angle_h": float(rows.hour_angle_h[k]),
                "declination_deg": float(rows.declination_deg[k]),
                "watched_s": float(rows.watched_s[k]),
                "drift_arcsec": float(rows.drift_arcsec[k]),
                "drift_sigma_arcsec": float(rows.sigma_arcsec[k]),
                "misfit_arcsec": float(solved.misfit_arcsec[k]),
                "taken_reversed": k in solved.taken_reversed,
                "left_out": k in solved.left_out,
            }
            for k, name in enumerate(rows.names)
        ],
        "all_reversed_suspected": solved.against_evidence,
    }


def _of_readings(finding: ReadingsFinding) -> OfMethodData:
    rows, solved = finding.rows, finding.solved
    return {
        "unknowns_fixed": solved.rank,
        "assumed": list(solved.assumed),
        **_of_mount(solved),
        "stars": [
            {
                "star": name,
                "line": rows.lines[k],
                "tube_side": rows.sides[k],
                "hour_misfit_arcmin": float(solved.hour_misfit_arcmin[k]),
                "declination_misfit_arcmin": float(solved.declination_misfit_arcmin[k]),
                "left_out": k in solved.left_out,
            }
            for k, name in enumerate(rows.names)
        ],
    }


def _of_mount(solved: ReadingsSolution) -> OfMethodData:
    out: dict[str, float | None] = {}
    last = {f"index_{circle}": solved.index(circle) for circle in CIRCLES}
    for name in UNKNOWNS[2:]:
        index = last.get(name)
        known = (index.arcmin, index.sigma_arcmin) if index else solved.known(name)
        out[f"{name}_arcmin"] = known[0] if known else None
        out[f"{name}_sigma_arcmin"] = known[1] if known else None
    return {
        **cast(OfMethodData, out),
        "circles_show_too_much": [
            {
                "circle": own.circle,
                "setting": own.setting or None,
                "on_side_east_arcmin": own.shows_too_much_arcmin(1),
                "on_side_west_arcmin": own.shows_too_much_arcmin(-1),
                "sigma_arcmin": own.sigma_arcmin,
            }
            for own in solved.indices
        ],
        "set_anew_between_sides": list(solved.set_anew),
        "set_anew_seen_from_arcmin": {
            circle: finite_or_none(arcmin) for circle, arcmin in solved.anew_seen_from_arcmin
        },
        "information_per_arcmin2": solved.information.tolist(),
        "unknowns": list(UNKNOWNS),
    }


def _of_frames(finding: FramesFinding) -> OfMethodData:
    solved = finding.solved
    return {
        "frames": [
            {
                "file": frame.name,
                "at": finding.moments[k].isoformat(),
                "pixel_scale_arcsec": frame.scale_arcsec,
                **_attitude(solved, k),
            }
            for k, frame in enumerate(finding.frames)
        ],
    }


def _attitude(solved: FramesSolution, k: int) -> dict[str, Any]:
    """What one frame or picture says of the camera's attitude."""
    return {
        "altitude_deg": float(solved.altitude_deg[k]),
        "turned_h": finite_or_none(solved.turned_h[k]),
        "misfit_across_arcsec": finite_or_none(math.hypot(*solved.misfit_arcsec[k][:2])),
        "misfit_about_arcsec": finite_or_none(solved.misfit_arcsec[k][2]),
        "left_out": k in solved.left_out,
    }


def _of_pictures(finding: PicturesFinding) -> OfMethodData:
    solved, run = finding.solved, finding.run
    width, height = run.size_px
    return {
        "pictures": [
            {
                "file": one.name,
                "at": finding.moments[k].isoformat(),
                "stars": len(one.stars),
                "brightest_found": one.of_brightest[0],
                "brightest_looked_for": one.of_brightest[1],
                "log10_chance_by_accident": one.log10_chance,
                "star_misfit_px": rms(one.misfit_px),
                **_attitude(solved, k),
            }
            for k, one in enumerate(run.recognised)
        ],
        "not_recognised": [finding.shots[k].name for k in run.unrecognised],
        "lens": {
            "width_px": width,
            "height_px": height,
            "focal_length_px": run.lens.focal_px,
            "field_width_deg": field_deg(width, run.lens.focal_px),
            "field_height_deg": field_deg(height, run.lens.focal_px),
            "middle_px": list(run.lens.middle_px),
            "distortion_at_corner": run.lens.bend_at(math.hypot(width, height) / 2.0),
        },
    }
