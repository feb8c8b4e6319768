"""In which sentences is 'good enough' told: the largest axis error allowed, and what reaches it?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.pole.aim.bore import Bore
from axletree.pole.enough.methods import (
    AligningMethod,
    FramesPlacing,
    Method,
    Obstacle,
    ScopePlacing,
)
from axletree.pole.enough.need import ASSUMED_APPARENT_FIELD_DEG, EyeUse
from axletree.pole.enough.rough import RoughAlignment
from axletree.pole.enough.still_point import StillPointView
from axletree.pole.enough.tolerance import (
    CameraUse,
    Limit,
    Tolerance,
)
from axletree.stages.set_up.enough import EnoughAnswer, EnoughAssumption
from axletree.tell.enough.reason_text import reason_words
from axletree.tell.pole.rough_text import source_words
from axletree.tell.pole.tube_text import tube_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.text import error_words, stop_words
from axletree.tell.shared.words import degrees, duration, to_the_second

METHOD_WORDS = {
    AligningMethod.ROUGH: "compass, level and scale",
    AligningMethod.HOLLOW_AXIS: "pole star through the hollow axis",
    AligningMethod.POLAR_SCOPE: "pole star in the polar scope",
    AligningMethod.STILL_POINT: "pole star beside the tube's still point",
    AligningMethod.CAMERA_FRAMES: "camera frames and bolt turns",
    AligningMethod.DRIFT_TEST: "drift test at the eyepiece",
}
OBSTACLE_WORDS = {
    Obstacle.SCALE_ENDS: "the altitude scale ends before this latitude",
    Obstacle.POLE_HIDDEN: "the pole is hidden here",
    Obstacle.STAR_OUTSIDE_BORE: "the star stays outside the bore's field",
    Obstacle.STAR_OUTSIDE_FIELD: "no finder or eyepiece shows so much sky",
    Obstacle.SWING_BLOCKED: "the tube meets something on the way round",
}


@dataclass(frozen=True)
class RulerWords:
    """What stands on the drawing beside the methods."""

    head: str
    description: str
    below_head: str
    allowed: str
    rows: list[str]


def enough_text(answer: EnoughAnswer) -> str:
    """The answer as text: how good, by what, why; then every method."""
    return sections(
        paragraph(headline(answer)),
        listed("What it is for", use_words(answer)),
        listed(
            "What each method leaves, nine times in ten",
            [method_words(m, answer) for m in answer.methods],
        ),
        listed("Also", also_words(answer)),
        listed("Assumed", assumed_words(answer)),
    )


def headline(answer: EnoughAnswer) -> str:
    """When to stop, why, and by which method that is reached."""
    first = stop_words(answer.stop_arcmin)
    if answer.strictest.limited_by is Limit.NOTHING:
        first += " To hold an object no axis error that a mount can have matters."
    elif answer.strictest.largest_arcmin > answer.circles_arcmin:
        first += (
            f" To hold an object {error_words(answer.strictest.largest_arcmin)} would do, to find "
            "it by the setting circles it wouldn't."
        )
    best = answer.quickest_to_stop
    if best is not None:
        return (
            f"{first} Quickest: {METHOD_WORDS[best.method]}, about {best.minutes:.0f} min; it ends "
            f"within {error_words(best.within_90_arcmin)} nine times in ten. A better axis would "
            f"not be noticed.{_to_hold(answer)}"
        )
    if answer.drift_minutes is not None:
        return (
            f"{first} No method of this kit is sure to reach that as usually done; a drift test "
            f"of {answer.drift_minutes:.0f} min on each of two stars would."
        )
    return (
        f"{first} No method of this kit is sure to reach that: its bolts can't be stopped finely "
        "enough. Make shorter exposures, or more nudges."
    )


def _to_hold(answer: EnoughAnswer) -> str:
    """The quickest method that holds an object, where another one serves the circles too."""
    best = answer.best
    if best is None or best is answer.quickest_to_stop:
        return ""
    return (
        f" To hold an object alone: {METHOD_WORDS[best.method]}, about {best.minutes:.0f} min; it "
        f"ends within {error_words(best.within_90_arcmin)}."
    )


def use_words(answer: EnoughAnswer) -> list[str]:
    """One sentence for each use and its own limit."""
    rows = []
    if answer.eye is not None and answer.eye_use is not None:
        rows.append(_eye(answer.eye, answer.eye_use))
    if answer.camera is not None and answer.camera_use is not None:
        rows.append(_camera(answer.camera, answer.camera_use))
    return rows


def _eye(found: Tolerance, use: EyeUse) -> str:
    how = "motor" if use.motor else "by hand; only the declination knob counts, the other turns"
    return (
        f"eye: {use.magnification:.0f} times ({eyepiece_words(use)}, field "
        f"{use.true_field_deg * 60:.0f}′), a nudge every {to_the_second(use.nudge_every_s)}, "
        f"{how}: {_limit(found)}, since {reason_words(found)}."
    )


def _camera(found: Tolerance, use: CameraUse) -> str:
    guided = "guided" if use.guided else "unguided"
    parts = ""
    if found.by_drift_arcmin is not None and found.by_rotation_arcmin is not None:
        parts = (
            f" (drift alone {error_words(found.by_drift_arcmin)}, field rotation alone "
            f"{error_words(found.by_rotation_arcmin)})"
        )
    elif found.by_rotation_arcmin is not None:
        parts = " (field rotation about the guide star; the drift is guided out)"
    return (
        f"camera: {use.focal_length_mm:g} mm, {use.pixel_um:g} µm, {use.width_px} × "
        f"{use.height_px}, {duration(use.exposure_s)} {guided}, at declination "
        f"{degrees(found.declination_deg, 0)}: {_limit(found)}{parts}, since {reason_words(found)}."
    )


def _limit(found: Tolerance) -> str:
    if found.limited_by is Limit.NOTHING:
        return "any axis error will do"
    return f"up to {error_words(found.largest_arcmin)}"


def eyepiece_words(use: EyeUse) -> str:
    """The eyepiece's label in the kit, or its focal length with the field that was assumed."""
    if use.eyepiece is not None:
        return use.eyepiece
    return f"{use.focal_length_mm:.3g} mm ({ASSUMED_APPARENT_FIELD_DEG:.0f}° assumed)"


def method_words(method: Method, answer: EnoughAnswer) -> str:
    """One row for a method."""
    name = METHOD_WORDS[method.method]
    if method.obstacle is not None:
        return f"{name}: not here; {OBSTACLE_WORDS[method.obstacle]}."
    often = round(100 * method.chance)
    verdict = f"enough in {often} of 100" if often else "never enough"
    if method.enough:
        near = method.within_90_arcmin <= answer.stop_arcmin
        verdict = "enough" if near else "enough to hold an object"
    return (
        f"{name}: {error_words(method.within_90_arcmin)}, about {method.minutes:.0f} min, "
        f"{verdict}. ({basis_words(method)}.)"
    )


def basis_words(method: Method) -> str:
    """What a method's error is made of, or why it can't be had here."""
    if method.obstacle is not None:
        return OBSTACLE_WORDS[method.obstacle]
    basis = method.basis
    if isinstance(basis, RoughAlignment):
        return "; ".join(source_words(basis, error.step) for error in basis.errors)
    if isinstance(basis, Bore):
        return (
            f"eye {basis.centring_sigma_arcmin:.0f}′ off the bore's middle, star judged to a tenth"
        )
    if isinstance(basis, ScopePlacing):
        return (
            f"star placed to {_placing_words(basis)}, scope square to the axis to "
            f"{basis.square_sigma_arcmin:.0f}′"
        )
    if isinstance(basis, StillPointView):
        return (
            f"{tube_words(basis)}: point seen to {basis.point_sigma_arcmin:.1f}′ after "
            f"{basis.swing_deg:.0f}° of swing, star placed to {basis.placing_sigma_arcmin:.1f}′"
        )
    if isinstance(basis, FramesPlacing):
        return (
            f"frames ±{basis.sigma_arcmin:.2f}′, bolts stopped to {basis.bolt_stop_deg:.0f}° of a "
            "turn"
        )
    return (
        f"{basis.test.minutes:.0f} min on each of two stars, twice; read to "
        f"{basis.test.reading_sigma_arcsec:.0f}″ in the {basis.eyepiece} eyepiece"
    )


def _placing_words(placing: ScopePlacing) -> str:
    if placing.field_deg is None:
        return f"{placing.sigma_arcmin:.1f}′ on its ring"
    return f"{placing.sigma_arcmin:.1f}′ in a field of {placing.field_deg:g}°"


def also_words(answer: EnoughAnswer) -> list[str]:
    """What a better axis is good for besides."""
    return [
        "finding objects with the setting circles wants an axis within "
        f"{error_words(answer.circles_arcmin)}: half the field of the widest eyepiece.",
        "periodic error of the worm, refraction and bending are not in this; they don't get less "
        "with a better axis.",
    ]


def assumed_words(answer: EnoughAnswer) -> list[str]:
    """What the answer takes for granted."""
    return [_assumption(answer, assumption) for assumption in answer.assumptions]


def _assumption(answer: EnoughAnswer, assumption: EnoughAssumption) -> str:
    camera = answer.camera_use
    less = "; nearer the equator less is asked for" if camera is not None and camera.guided else ""
    words = {
        EnoughAssumption.CAMERA_DECLINATION: f"the camera points at declination 60°{less}",
        EnoughAssumption.GUIDE_STAR_IN_CORNER: (
            "the guide star stands in a corner of the frame, the worst place"
        ),
        EnoughAssumption.SEEING: f"seeing {answer.seeing_arcsec:g}″",
        EnoughAssumption.GUESSED_BOLTS: (
            f"guessed from the mount's size: {', '.join(answer.guessed_bolts).replace('_', ' ')}"
        ),
        EnoughAssumption.ESTIMATES: (
            "errors and minutes of the methods are estimates for a careful person and an ordinary "
            "mount (common practice)"
        ),
    }
    return words[assumption]


def ruler_words(answer: EnoughAnswer) -> RulerWords:
    """All words of the drawing but the methods' own."""
    allowed = error_words(answer.stop_arcmin)
    head = stop_words(answer.stop_arcmin).rstrip(".")
    rows = " ".join(
        f"{METHOD_WORDS[m.method]}: {verdict_words(m, answer)}." for m in answer.methods
    )
    return RulerWords(
        head=head,
        description=f"{head}. {rows}",
        below_head=(
            f"quickest to come there: {METHOD_WORDS[answer.quickest_to_stop.method]}"
            if answer.quickest_to_stop
            else "no method of this kit is sure to reach that"
        ),
        allowed=f"stop here: {allowed}",
        rows=use_words(answer),
    )


def verdict_words(method: Method, answer: EnoughAnswer) -> str:
    """The words at the end of a method's row on the drawing."""
    if method.obstacle is not None:
        return OBSTACLE_WORDS[method.obstacle]
    reach = error_words(method.within_90_arcmin)
    enough = "holds an object" if method.enough else "not sure"
    if method.within_90_arcmin <= answer.stop_arcmin:
        enough = "enough"
    return f"{enough} · within {reach} · about {method.minutes:.0f} min"
