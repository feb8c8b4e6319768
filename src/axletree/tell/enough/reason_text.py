"""In which words is it told where the movement that is allowed comes from?"""

from __future__ import annotations

from axletree.pole.enough.tolerance import AllowedTrail, FieldPart, Tolerance, UnseenTrail


def reason_words(tolerance: Tolerance) -> str:
    """Why the picture may move by so much, and no more; to be put behind 'since'."""
    reason, allowed = tolerance.reason, tolerance.allowed_arcsec
    if isinstance(reason, FieldPart):
        return (
            f"the object may wander {reason.use_of_field * 100:.0f} % of the way from the middle "
            f"to the edge of a field of {reason.true_field_deg * 60:.0f}′"
        )
    if isinstance(reason, UnseenTrail):
        return (
            f"a trail of {allowed:.1f}″ isn't seen: the larger of one pixel "
            f"({reason.pixel_arcsec:.1f}″) and half of a star's width in "
            f"{reason.seeing_arcsec:g}″ of seeing"
        )
    if isinstance(reason, AllowedTrail):
        return f"a trail may have {reason.pixels:g} px ({allowed:.1f}″)"
    return f"the circles should bring objects into a field of {reason.true_field_deg * 60:.0f}′"
