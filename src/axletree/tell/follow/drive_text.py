"""In which words is told what the motor does, and how long a camera may expose?"""

from __future__ import annotations

from axletree.mount.follow.nudge import TRAIL_PX
from axletree.mount.follow.rates import DRIVE_RATES, MOON_MEAN_MOTION_DEG_PER_DAY
from axletree.sky.time.instants import SIDEREAL_DAY_S
from axletree.stages.target.follow import FollowAnswer
from axletree.tell.follow.altaz_text import exposure
from axletree.tell.shared.paragraphs import listed

RATE_SOURCES = {
    "sidereal": f"360° in {SIDEREAL_DAY_S:.4f} s (Aoki et al. 1982)",
    "solar": "360° in 86400 s, the mean Sun",
    "lunar": f"stars less the Moon's mean motion of {MOON_MEAN_MOTION_DEG_PER_DAY:.6f}° a day",
    "king": "average through air near the zenith (E. S. King 1931)",
}


def object_words(answer: FollowAnswer) -> str:
    """'the Moon', 'Vega', or the star that stands for all where no object was named."""
    if answer.target is None:
        return "a star on the celestial equator"
    the = "the " if answer.target.kind in ("sun", "moon") else ""
    return f"{the}{answer.target.name}"


def motor_words(answer: FollowAnswer) -> str:
    """What the motor does, and what is left over for the hand."""
    drive = answer.drive
    if drive is None:
        return ""
    rows = []
    for choice in answer.drives:
        begin = f"{choice.rate} ({choice.arcsec_per_s:.4f}″/s): "
        if choice.drift_arcsec_per_min < 0.05:
            rows.append(begin + "nothing is left over")
            continue
        ahead = "runs ahead (west)" if choice.along_arcsec_per_min > 0 else "falls behind (east)"
        north = "north" if choice.across_arcsec_per_min > 0 else "south"
        rows.append(
            f"{begin}it {ahead} by {abs(choice.along_arcsec_per_min):.1f}″ a minute, {north} by "
            f"{abs(choice.across_arcsec_per_min):.1f}″"
        )
    motor = answer.kit.mount.motor
    if motor is None or motor.axes == "hour":
        rows.append("Declination has no motor: what goes north or south is left to the hand.")
    else:
        rows.append("Both axes have motors; the rates above are for the hour axis.")
    rows.append("Left to the hand: finding, centring, and the drift above; locks stay closed.")
    return listed("Motor, best rate first", rows)


def rates_words(answer: FollowAnswer) -> str:
    """How fast the hour axis has to turn, by different rates."""
    if answer.target is None:
        rows = [
            f"{name:<9}{value:.4f}″/s: {RATE_SOURCES[name]}" for name, value in DRIVE_RATES.items()
        ]
        rows.append(
            f"seen here, on the equator at the meridian: {answer.rates.seen:.4f}″/s about the "
            "refracted pole"
        )
        return listed("Rates of the hour axis", rows)
    rates = answer.rates
    rows = [
        f"true {rates.true:.4f}″/s; through this air, about the refracted pole, {rates.seen:.4f}″/s"
        if answer.above
        else f"true {rates.true:.4f}″/s",
        f"stars {DRIVE_RATES['sidereal']:.4f}, mean Sun {DRIVE_RATES['solar']:.4f}, mean Moon "
        f"{DRIVE_RATES['lunar']:.4f}",
    ]
    return listed(f"Rate of {object_words(answer)} in hour angle, now", rows)


def camera_words(answer: FollowAnswer) -> str:
    """How long the camera may expose, and what ends it."""
    camera = answer.camera
    if camera is None:
        return ""
    rows = [
        f"a pixel is {camera.pixel_arcsec:.2f}″; {TRAIL_PX:g} pixels of trail are allowed",
        f"nothing turning: {exposure(camera.still_s)}",
    ]
    if camera.drive_s is not None:
        rows.append(f"motor, for its rate alone: {exposure(camera.drive_s)}")
    if camera.periodic_worst_s is not None and camera.periodic_best_s is not None:
        rows.append(
            f"periodic error: {exposure(camera.periodic_worst_s)} at the worm's worst, "
            f"{exposure(camera.periodic_best_s)} at its best"
        )
    elif camera.drive_s is not None:
        rows.append(
            "the periodic error is not in the kit (mount.gears.periodic_error_arcsec, half of peak "
            "to peak), so exposures may be shorter"
        )
    return listed("Camera, longest exposure", rows)
