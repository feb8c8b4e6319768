"""The lesson: its star, its drawings on the Earth and its bars, its page, its work sheet.

Held against the floors' own kinematics and rates (which have outside sources), against differences
of azimuth and altitude, and against what holds for any sky: the pole is as high as the latitude.
"""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest
from desks import Live, client_of, make_desk, until
from looks import colours, faults
from pypdf import PdfReader

from axletree.app.web.pages import edition
from axletree.kit.kit import demo_kit
from axletree.mount.follow.altaz_rates import altaz_rates
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, axis_angles
from axletree.sky.directions import azimuth_altitude, wrap_180
from axletree.stages.target.teach import named_star, teach, three_latitudes

RNG = np.random.default_rng(20261206)


@pytest.mark.parametrize("latitude", [38.6, -44.0, 3.0, -8.0, 62.0, -55.0])
def test_the_star_stands_over_all_three_places_at_once(latitude: float) -> None:
    places = three_latitudes(latitude)
    assert places[0] == latitude
    assert min(places) < 0.0 < max(places)
    star = named_star(places)
    # On the meridian an object stands 90° less the difference of latitude and declination high.
    assert all(90.0 - abs(v - star.declination_deg) > 15.0 for v in places)
    assert star.name.isalpha()
    assert star.magnitude_v < 1.0


def test_the_eyepiece_and_the_rush_are_those_of_the_sky() -> None:
    found = teach(demo_kit("courtyard"))
    # A star of the equator takes 240 s of sidereal time for one degree (common practice), another
    # longer by the secant of its declination.
    degree_s = 240.0 / 1.0027379
    across = found.eyepiece.true_field_deg * degree_s
    assert 2.0 * found.eyepiece.leaves_s == pytest.approx(
        across / math.cos(math.radians(found.star.declination_deg)), rel=2e-3
    )
    # How fast the azimuth changes, by two places of the star a second before and after.
    hours = np.array([-1.0, 1.0]) / 3600.0 * 1.0027379
    azimuth, _ = azimuth_altitude(hours, found.overhead_deg, found.latitude_deg)
    turned = abs(float(wrap_180(azimuth[1] - azimuth[0])))
    assert found.rush_deg_per_h == pytest.approx(turned * 1800.0, rel=1e-4)


# -- what the page reckons ------------------------------------------------------------------


@pytest.fixture(scope="module")
def run(browser: Any, live: Live) -> Iterator[Callable[..., Any]]:
    """run(module, code, argument): `m` is the page's module, `f` the frames, `x` the argument."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{live.url}/")

    def call(module: str, code: str, argument: Any = None) -> Any:
        base = f"/static/{edition()}"
        return page.evaluate(
            f"async (x) => {{ const m = await import('{base}/pages/{module}.js'),"
            f" f = await import('{base}/shared/frames.js'); return ({code}); }}",
            argument,
        )

    yield call
    context.close()


def plain() -> dict[str, Any]:
    rig = build_rig(demo_kit("courtyard"))
    return {
        "latitude_deg": rig.latitude_deg, "hinge_height_m": rig.hinge_height_m,
        "crossing_along_m": rig.crossing_along_m, "crossing_above_m": rig.crossing_above_m,
    }  # fmt: skip


@pytest.mark.browser
def test_poses_are_the_mounts(run: Callable[..., Any]) -> None:
    for latitude in (38.6, -44.0):
        axes, sense = align(latitude), (1 if latitude > 0 else -1)
        H, d = RNG.uniform(-5, 5, 30), RNG.uniform(-60, 60, 30)
        for side in (1, -1):
            got = run(
                "teach_globe", "x.rows.map(([h, d]) => m.poseFor(h, d, x.side, x.sense))",
                {"rows": np.stack((H, d), axis=1).tolist(), "side": side, "sense": sense},
            )  # fmt: skip
            ends, swings = axis_angles(axes, "east" if side > 0 else "west", H, d)
            apart = wrap_180(15.0 * (np.array([p["end"] for p in got]) - ends))
            assert np.abs(apart).max() < 1e-6
            assert np.abs(np.array([p["swing"] for p in got]) - swings).max() < 1e-9


@pytest.mark.browser
def test_on_the_earth_all_axes_are_parallel_and_tubes_look_at_one_star(
    run: Callable[..., Any],
) -> None:
    got = run(
        "teach_globe",
        "x.places.map((lat) => { const p = m.poseFor(0, x.dec, 1, lat >= 0 ? 1 : -1),"
        " frames = m.framesAt(x.rig, lat, p), local = m.localOf(lat, 0),"
        " earth = (v) => f.add(...local.map((c, i) => c.map((e) => e * v[i])));"
        " return [earth(frames.pole), earth(frames.turn[3][2])]; })",
        {"places": [38.6, 0.0, -35.0, 70.0], "dec": -8.2, "rig": plain()},
    )  # fmt: skip
    d = math.radians(-8.2)
    for (pole, tube), latitude in zip(got, (38.6, 0.0, -35.0, 70.0), strict=True):
        assert pole == pytest.approx([0.0, 0.0, 1.0 if latitude >= 0 else -1.0], abs=1e-9)
        assert tube == pytest.approx([math.cos(d), 0.0, math.sin(d)], abs=1e-9)


@pytest.mark.browser
def test_rates_and_the_upright_mount(run: Callable[..., Any]) -> None:
    for latitude in (38.6, -44.0):
        dec = latitude - math.copysign(2.0, latitude)
        H = np.linspace(-1.0, 1.0, 41)
        rows = [[float(h), dec, latitude] for h in H]
        got = np.array(run("teach_zenith", "x.map((r) => m.altazRates(...r))", rows))
        want = altaz_rates(H, dec, latitude)
        # Arcseconds a second are degrees an hour.
        assert got[:, 0] == pytest.approx(want.azimuth, rel=1e-6)
        assert got[:, 1] == pytest.approx(want.altitude, rel=1e-6, abs=1e-9)
        azimuth, altitude = azimuth_altitude(H, dec, latitude)
        tubes = run(
            "teach_globe",
            "import(x.zenith).then((z) => x.rows.map(([a, e]) => {"
            " const p = z.uprightPose(a, e, x.lat > 0 ? 1 : -1);"
            " return f.framesOf(x.rig, x.lat, p.end, p.swing, 90).turn[3][2]; }))",
            {"rows": np.stack((azimuth, altitude), axis=1).tolist(), "lat": latitude,
             "rig": plain(), "zenith": f"/static/{edition()}/pages/teach_zenith.js"},
        )  # fmt: skip
        a, e = np.radians(azimuth), np.radians(altitude)
        sky = np.stack((np.sin(a) * np.cos(e), np.cos(a) * np.cos(e), np.sin(e)), axis=1)
        assert np.abs(np.array(tubes) - sky).max() < 1e-9


@pytest.mark.browser
def test_the_circle_empties_when_the_star_has_left(run: Callable[..., Any]) -> None:
    leaves = teach(demo_kit("courtyard")).eyepiece.leaves_s
    code = "x.t.map((t) => [m.gone(t, x.leaves, false), m.gone(t, x.leaves, true)])"
    got = run("teach_circle", code, {"t": [0.0, leaves / 2, leaves, 3 * leaves], "leaves": leaves})
    assert [g[0] for g in got] == pytest.approx([0.0, 0.5, 1.0, 3.0])
    assert [g[1] for g in got] == [0.0] * 4
    parts = run("teach_lesson", "x.map((p) => m.skySeconds(p, 84))", [0.0, 0.2, 0.5, 1.0])
    assert parts == sorted(parts)
    assert parts[-1] == pytest.approx(3 * 3600.0)


# -- the page -------------------------------------------------------------------------------


@pytest.mark.browser
def test_a_pupil_guesses_and_looks(visit: Callable[..., Any], browser: Any) -> None:
    page = visit("teach", light="red", reduced_motion="reduce")
    until(page, "() => document.querySelector('#lesson-drawing svg')")
    wire = page.evaluate(
        "['navigation', 'resource'].flatMap(t => [...performance.getEntriesByType(t)])"
        ".filter(e => !e.name.endsWith('.woff2')).reduce((s, e) => s + e.transferSize, 0)"
    )
    assert 3000 < wire < 100_000
    for step in ("still", "turning", "zenith", "axes"):
        page.click(f"[data-lesson={step}]")
        bar = page.locator(".thumb").bounding_box()["y"]
        ends = [b.bounding_box() for b in page.locator("#guesses button, #lesson-on").all()]
        assert len(ends) == 4, step
        assert all(0 < b["y"] < b["y"] + b["height"] <= bar for b in ends), step
    page.locator("#guesses button").nth(0).click()
    assert "looked=yes" in page.url
    assert page.inner_text("#lesson-told").startswith("Not quite")
    page.click("#lesson-on")  # the one button goes on
    assert "lesson=still" in page.url
    assert "looked" not in page.url
    page.locator("#guesses button").nth(1).click()
    assert page.inner_text("#lesson-told") == "Well guessed."
    assert page.text_content("#lesson-drawing figure:nth-child(2) text") == "Rigel is gone"
    page.click("#lesson-on")
    page.click("#lesson-on")
    stays = page.locator("#lesson-drawing figure").nth(2).locator("text").all_text_contents()
    assert stays[0] == "Rigel"
    # Whether the browser gives its own frame up, too, is its affair.
    page.evaluate(
        "() => { document.documentElement.requestFullscreen = () => Promise.reject(new Error()); }"
    )
    page.click("#whole")
    assert "whole=yes" in page.url
    assert page.locator("nav:visible, header:visible, footer:visible").count() == 0
    assert (
        page.locator("button:visible, a:not(.skip):visible").count() == 3
    )  # the large one and two small
    assert page.locator("#lesson-on").bounding_box()["height"] >= 60
    page.evaluate("document.querySelector('.redlight').style.display = 'none'")
    assert colours(browser, page.screenshot())["other"] == 0
    page.click("#whole")
    assert page.locator("footer:visible").count() == 1
    page.click("[data-lesson=zenith]")
    page.click("#lesson-on")
    assert "346° an hour" in page.locator("#lesson-drawing svg").nth(1).text_content()
    assert faults(page) == []
    small = page.evaluate(
        "[...document.querySelectorAll('.lesson button, .lesson a, .lesson-steps a')]"
        ".filter(b => b.getBoundingClientRect().height < 44).length"
    )
    assert small == 0


@pytest.mark.browser
def test_a_look_moves_and_then_rests(visit: Callable[..., Any]) -> None:
    page = visit("teach?lesson=turning")
    until(page, "() => document.querySelector('#lesson-drawing svg')")
    page.click("#lesson-on")
    until(page, "() => document.querySelector('#lesson-clock').textContent.includes('min')")
    page.click("[data-lesson=axes]")  # nothing goes on that is no longer seen
    seen = [page.inner_html("#lesson-drawing")]
    for _ in range(5):  # what is answered meanwhile may be drawn, once
        page.wait_for_timeout(300)
        seen.append(page.inner_html("#lesson-drawing"))
        if seen[-1] == seen[-2]:
            break
    assert seen[-1] == seen[-2]
    assert page.inner_text("#lesson-clock") == ""


# -- the paper ------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "latitude"), [("courtyard", "38.6°"), ("paddock", "44.0°")])
def test_the_work_sheet_has_the_own_latitude(name: str, latitude: str) -> None:
    client = client_of(make_desk(name))
    client.get("/")
    pages = []
    for paper in ("a4", "letter"):  # the words of the command's --paper
        reply = client.get("/answer/teach/sheet.pdf", params={"paper": paper})
        assert reply.headers["content-type"] == "application/pdf"
        pages = PdfReader(io.BytesIO(reply.content)).pages
        assert len(pages) == 2, paper  # pupils' page, answers
        # In points: ISO 216 (210 mm) and ANSI/ASME Y14.1 size A (8.5 in).
        width = float(pages[0].mediabox.width)
        assert width == pytest.approx(595.28 if paper == "a4" else 612.0, abs=0.1)
    pupils, answers = (" ".join(page.extract_text().split()) for page in pages)
    assert f"latitude {latitude}" in pupils
    assert f"The angle is {latitude}" in answers
    assert f"The angle is {latitude}" not in pupils
    # A turn of the Earth against the stars: 23 h 56 min (S. Aoki et al. 1982, A&A 105, 359).
    assert "23 h 56 min" in answers
    assert "23 h 56 min" not in pupils
    assert client.get("/answer/teach/sheet.pdf", params={"paper": "a3"}).status_code == 422
