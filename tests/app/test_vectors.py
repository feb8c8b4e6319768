"""The little that a page computes itself is what Python computes.

Angles, frames, words and the pole star's way round are asked for at many values in the browser's
own modules and held against the floors, which have their own outside sources.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import erfa
import numpy as np
import pytest
from desks import Live, answered

from axletree.app.web.pages import edition
from axletree.kit.kit import demo_kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, crossing_m, frames, head_frame
from axletree.mount.steady.swing import Freed
from axletree.pole.aim.axis_view import AxisView
from axletree.pole.aim.view import pole_view
from axletree.sky.directions import azimuth_altitude, wrap_180, wrap_h
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_DAYS_PER_DAY
from axletree.tell.shared import words
from axletree.tell.shared.measure import width_of
from axletree.tell.shared.text import error_words

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def run(browser: Any, live: Live) -> Iterator[Callable[..., Any]]:
    """run(module, code, argument): `m` is the module, `x` the argument."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{live.url}/")

    def call(module: str, code: str, argument: Any = None) -> Any:
        address = f"/static/{edition()}/shared/{module}.js"
        return page.evaluate(
            f"async (x) => {{ const m = await import('{address}'); return ({code}); }}", argument
        )

    yield call
    context.close()


RNG = np.random.default_rng(20261205)


def test_hour_angles_and_directions(run: Callable[..., Any]) -> None:
    h = RNG.uniform(-40, 40, 200).tolist()
    found = run("clock", "x.map(m.wrapH)", h)
    assert found == pytest.approx(wrap_h(h).tolist(), abs=1e-9)
    degrees = RNG.uniform(-800, 800, 200).tolist()
    assert run("clock", "x.map(m.wrap180)", degrees) == pytest.approx(wrap_180(degrees).tolist())
    H, d, f = RNG.uniform(-12, 12, 200), RNG.uniform(-89, 89, 200), RNG.uniform(-89, 89, 200)
    rows = np.stack((H, d, f), axis=1).tolist()
    azimuth, altitude = azimuth_altitude(H, d, f)
    got = np.array(run("clock", "x.map(([h, d, f]) => m.azimuthAltitude(h, d, f))", rows))
    assert np.abs(wrap_180(got[:, 0] - azimuth)).max() < 1e-7
    assert np.abs(got[:, 1] - altitude).max() < 1e-9


def test_the_sidereal_clock_against_erfa(run: Callable[..., Any]) -> None:
    # erfa.era00 (IAU 2000, Capitaine et al.); both given UT1 = UTC.
    moments = [datetime(2024, 3, 1, tzinfo=UTC) + timedelta(hours=1237.3 * k) for k in range(60)]
    seconds = [m.timestamp() for m in moments]
    got = np.array(run("clock", "x.map((s) => m.earthTurns(new Date(s * 1000)))", seconds))
    want = erfa.era00(2440587.5, np.array(seconds) / 86400.0) / (2 * np.pi)
    apart = np.abs((got - want + 0.5) % 1.0 - 0.5)
    assert apart.max() * 86400 < 0.005  # the browser counts milliseconds
    assert run("clock", "m.SIDEREAL") == SIDEREAL_DAYS_PER_DAY
    # A day of the clock is a turn and 3 min 56.6 s of hour angle more.
    after = run("clock", "m.hourAngleAfter(0, 86400)")
    assert after * 3600 == pytest.approx(236.555, abs=0.002)


def test_frames_of_the_rig(run: Callable[..., Any]) -> None:
    for name in ("courtyard", "paddock"):
        kit = demo_kit(name)
        rig = build_rig(kit)
        plain = {
            "latitude_deg": rig.latitude_deg, "hinge_height_m": rig.hinge_height_m,
            "crossing_along_m": rig.crossing_along_m, "crossing_above_m": rig.crossing_above_m,
        }  # fmt: skip
        for latitude in (rig.latitude_deg, 0.0, 12.5, -65.0, 88.0):
            axes = align(latitude)
            poses = np.stack((RNG.uniform(-12, 12, 20), RNG.uniform(-180, 180, 20)), axis=1)
            got = run(
                "frames",
                "x.poses.map(([h, s]) => { const f = m.framesOf(x.rig, x.latitude, h, s);"
                " return { turn: f.turn, at: f.at }; })",
                {"rig": plain, "poses": poses.tolist(), "latitude": latitude},
            )
            polar, tube = frames(axes, poses[:, 0], poses[:, 1])
            for k, frame in enumerate(got):
                turn = [np.array(t).T for t in frame["turn"]]
                assert np.abs(turn[1] - head_frame(axes)).max() < 1e-9
                assert np.abs(turn[2] - polar[k]).max() < 1e-9
                assert np.abs(turn[3] - tube[k]).max() < 1e-9
                for at in frame["at"][1:]:
                    assert np.abs(np.array(at) - crossing_m(rig, axes)).max() < 1e-9


def test_words(run: Callable[..., Any]) -> None:
    lengths = [0.0, 0.4, 9.96, 85.0, 609.5, 609.7, 999.4, 1000.0, 1234.0, -30.0, 2000.0, 5555.0]
    for units in ("metric", "us"):
        got = run("words", "x.v.map((v) => m.length(v, x.u))", {"v": lengths, "u": units})
        assert got == [words.length(v, units) for v in lengths]
        got = run("words", "x.v.map((v) => m.aboveGround(v, x.u))", {"v": lengths, "u": units})
        assert got == [words.above_ground(v, units) for v in lengths]
        got = run("words", "x.v.map((v) => m.mass(v, x.u))", {"v": lengths, "u": units})
        assert got == [words.mass(v, units) for v in lengths]
    angles = [0.0, 0.04, -0.04, -12.34, 359.6, 11.25, 33.75, 348.75, 180.0, 90.0]
    signed = "x.map((v) => m.degrees(v, 1, true))"
    assert run("words", signed, angles) == [words.degrees(a, signed=True) for a in angles]
    assert run("words", "x.map(m.compassPoint)", angles) == [words.compass_point(a) for a in angles]
    assert run("words", "x.map(m.clockFace)", angles) == [words.clock_face(a) for a in angles]
    seconds = [0.0, 35.0, 89.4, 90.0, 725.0, 3599.0, 3600.0, 7530.0, 40000.0]
    assert run("words", "x.map(m.duration)", seconds) == [words.duration(s) for s in seconds]
    errors = [0.04, 0.75, 9.94, 9.96, 10.6, 52.0, 89.4, 90.0, 599.0, 601.0, 2000.0]
    assert run("words", "x.map(m.axisError)", errors) == [error_words(e) for e in errors]
    waits = [0, 0.5, 29.4, 59.5, 60, 61.5, 104.4, 599.4, 599.6, 724]
    told = [words.to_the_second(s) for s in waits]
    assert run("words", "x.map(m.toTheSecond)", waits) == told
    assert told[6:] == ["1 min 44 s", "9 min 59 s", "10 min", "12 min"]
    hours = [0.0, 5.05, -1.25, 23.999, -0.001, 11.5]
    assert run("words", "x.map((h) => m.hoursMinutes(h))", hours) == [
        words.hours_minutes(h) for h in hours
    ]
    dial = [12.0, 0.004, 7.6, 11.999, 5.9333, 12.6, *(0.05 + 0.1 * k for k in range(120))]
    assert run("words", "x.map(m.dialHour)", dial) == [words.dial_hour(h) for h in dial]
    assert run("words", "x.map(m.dialPlace)", dial) == [words.dial_place(h) for h in dial]
    for zone in ("Europe/Lisbon", "Pacific/Auckland"):
        moments = [datetime(2026, 12, 5, 20, 29, 31, tzinfo=UTC) + timedelta(minutes=77.7 * k)
                   for k in range(12)]  # fmt: skip
        got = run("words", "x.t.map((t) => m.clock(new Date(t * 1000), x.z))",
                  {"t": [m.timestamp() for m in moments], "z": zone})  # fmt: skip
        assert got == [words.clock(m, ZoneInfo(zone)) for m in moments]


@pytest.mark.parametrize(("latitude", "look"), [(38.57, "inverted"), (-44.02, "erect"),
                                                (62.0, "mirrored")])  # fmt: skip
def test_the_pole_star_between_two_answers(
    run: Callable[..., Any], latitude: float, look: Any
) -> None:
    observer = Observer(latitude, -7.9 if latitude > 0 else 169.9, 300.0)
    at = datetime(2026, 12, 5, 20, 30, tzinfo=UTC)
    first = pole_view(observer, at, AxisView(look=look))
    ring = [list(p) for p in first.ring]
    for minutes in (1.0, 17.0, 58.0, 119.0, 400.0, 1400.0):
        later = pole_view(observer, at + timedelta(minutes=minutes), AxisView(look=look))
        right, up = run("clock", "m.onRing(x.ring, x.s)", {"ring": ring, "s": minutes * 60})
        away = np.hypot(right - later.now.right_arcmin, up - later.now.up_arcmin)
        assert away < 0.05  # arcminutes, of a ring of 37 to 68
        hour = run("clock", "m.clockHour(x[0], x[1])", [right, up])
        assert abs((hour - later.clock_hour + 6) % 12 - 6) < 0.005
        # The field stars turn with the picture.
        turn = first.turn_deg_per_h * minutes / 60
        for star in first.stars[:5]:
            found = next((s for s in later.stars if s.hip == star.hip and s.hip), None)
            if found is None:
                continue
            x, y = run("clock", "m.turned(x[0], x[1], x[2])",
                       [star.right_arcmin, star.up_arcmin, turn])  # fmt: skip
            assert np.hypot(x - found.right_arcmin, y - found.up_arcmin) < 0.012 * 240


def test_an_opened_axis_swings_in_the_books_time(run: Callable[..., Any]) -> None:
    # No friction, small swing about its rest: the period of the compound pendulum.
    freed = Freed(0.02, -1.0, 0.7, 9.80665, 5.0)
    given = {"along_kg_m": freed.along_kg_m, "across_kg_m": freed.across_kg_m,
             "inertia_kg_m2": freed.inertia_kg_m2, "gravity_m_s2": freed.gravity_m_s2}  # fmt: skip
    track = run(
        "swing",
        "(() => { let s = { angle: 0.02, speed: 0 }; const out = [];"
        " for (let i = 0; i < 3000; i += 1) { s = m.step(s, x, 0, 0.002); out.push(s.angle); }"
        " return out; })()",
        given,
    )
    angle = np.array(track) - np.arctan2(freed.along_kg_m, -freed.across_kg_m) * -1
    crossings = np.flatnonzero((angle[:-1] < 0) & (angle[1:] >= 0))
    period = float(np.mean(np.diff(crossings))) * 0.002
    moment = np.hypot(freed.along_kg_m, freed.across_kg_m)
    book = 2 * np.pi * np.sqrt(freed.inertia_kg_m2 / (moment * freed.gravity_m_s2))
    assert period == pytest.approx(book, rel=0.01)
    # With more friction than torque it stays where it is; with less it comes to rest.
    rests = run("swing", "m.step({ angle: 0, speed: 0 }, x, 0.5, 1)", {**given, "along_kg_m": 0.04})
    assert rests["rests"]
    assert rests["angle"] == 0
    swung = run(
        "swing",
        "(() => { let s = { angle: 0, speed: 0 }; for (let i = 0; i < 4000 && !s.rests; i += 1)"
        " s = m.step(s, x, 0.15, 0.05); return s; })()",
        {**given, "along_kg_m": 0.4, "across_kg_m": 0.1},
    )
    assert swung["rests"]
    assert swung["angle"] < -1  # the heavy end hangs down


def test_words_are_measured_as_in_python(run: Callable[..., Any]) -> None:
    """The page's own typeface, once it has come, against the table that Python measures with."""
    sayings = ["12 h 34 min", "−3.5°", "Turn AVATAR To Wave", "Polaris, 26.5° above Évora"]
    for weight, italic in ((400, False), (600, False), (700, False), (400, True)):
        got = run(
            "measure",
            "(await m.typefaceHere, x.t.map((t) => m.widthOf(t, 19, x.w, x.i)))",
            {"t": sayings, "w": weight, "i": italic},
        )
        assert got == pytest.approx([width_of(t, 19, weight, italic) for t in sayings], rel=0.005)


def test_words_are_measured_without_a_canvas(visit: Callable[..., Any]) -> None:
    """A browser that lends no canvas, as some do against recognition, sets the words instead."""
    page = visit("level", size="desk")
    page.context.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
    page.reload()
    answered(page)
    sayings = ["12 h 34 min", "Polaris, 26.5° above Évora"]
    got = page.evaluate(
        "async (t) => { const m = await import(document.querySelector('script[type=module]').src"
        ".replace('joined/level', 'shared/measure')); await m.typefaceHere;"
        " return t.map((words) => m.widthOf(words, 19, 600)); }",
        sayings,
    )
    assert got == pytest.approx([width_of(t, 19, 600) for t in sayings], rel=0.005)
