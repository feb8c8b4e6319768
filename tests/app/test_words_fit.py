"""No page cuts a word, breaks it, sets it over another, or makes it too small to read; and each
quantity is written in one way (docs/words.md) in what the browser shows.

At four widths from one load, in both hemispheres, with our typeface and with a wide one in its
place; names are long but real. Pages that lead through steps, hold closed forms, or look otherwise
to a visitor or once something is written, are looked at in those states, too, at two widths.
By turns one page in the north with the wide typeface and the next in the south with ours;
AXLETREE_LONG=1 looks at each page of each kit in each typeface.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from typing import Any

import pytest
from desks import Live, answered, until

from axletree.app.state import Desk
from axletree.app.web.pages import pages
from axletree.kit.kit import check_text, demo_text
from axletree.logbook.store import Logbook, LoggedStop, default_logbook
from notation import wrong_in
from words_fit import misfits, misfits_on_all_screens, serve_wider, settled

pytestmark = pytest.mark.browser
LONG = bool(os.environ.get("AXLETREE_LONG"))
NAMES = ["start", *(p.name for p in pages())]
# 20:30 and 21:30 in the dark of each; hours of two digits everywhere.
MOMENTS = {"courtyard": "?at=2026-12-05T20:30Z", "paddock": "?at=2026-12-05T11:30Z"}
WITH_TIME = ("north", "pole", "point", "find", "follow")
# Stars and objects with long names, one of them beside the pole.
OBJECTS = {"courtyard": "Andromeda Galaxy", "paddock": "σ Octantis"}
LONGER = {
    "School courtyard near Évora": "Courtyard of the municipal school at Vila Nova de São Bento",
    '"School courtyard"': '"Grandmother\'s telescope on the borrowed mount"',
    "150 mm f/5 Newtonian": "second-hand 150 mm f/5 Newtonian, new mirror",
    "Farm paddock near Lake Tekapo": "Farm paddock on the long road from Lake Tekapo to Takapō",
}
CASES = [("courtyard", "wide"), ("paddock", "ours")]
if LONG:
    CASES += [("courtyard", "ours"), ("paddock", "wide")]


@pytest.fixture(scope="module")
def desks(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Live]]:
    """A running server for each kit, with long names in it."""
    running = {}
    for name in MOMENTS:
        text = demo_text(name)
        for short, words in LONGER.items():
            text = text.replace(short, words)
        kit, problems = check_text(text)
        assert kit is not None, problems
        assert len(kit.site.name) > 50
        folder = tmp_path_factory.mktemp(name)
        file = folder / "axletree.toml"
        file.write_text(text, encoding="utf-8")
        running[name] = Live(Desk(kit, text, kit_file=file, folder=folder)).start()
    yield running
    for live in running.values():
        live.stop()


@pytest.fixture(scope="module")
def context_of(browser: Any) -> Iterator[Callable[[str], Any]]:
    """A context of the browser for each typeface, so that a page's modules are read once."""
    opened: dict[str, Any] = {}

    def of(typeface: str) -> Any:
        if typeface not in opened:
            opened[typeface] = browser.new_context()
            if typeface == "wide":
                serve_wider(opened[typeface])
        return opened[typeface]

    yield of
    for context in opened.values():
        context.close()


@pytest.mark.parametrize(
    ("name", "kit", "typeface"),
    [
        (name, kit, typeface)
        for turn, name in enumerate(NAMES)
        for kit, typeface in (CASES if LONG else CASES[turn % 2 :][:1])
    ],
)
def test_words_of_a_page_fit(
    context_of: Callable[[str], Any],
    desks: dict[str, Live],
    name: str,
    kit: str,
    typeface: str,
) -> None:
    page = context_of(typeface).new_page()
    try:
        page.set_viewport_size({"width": 1440, "height": 900})
        moment = MOMENTS[kit] if name in WITH_TIME else ""
        page.goto(f"{desks[kit].url}/{'' if name == 'start' else name}{moment}")
        answered(page)
        if name in ("point", "find", "follow"):
            page.fill("#object", OBJECTS[kit])
            asked = f"/answer/{name}?"
            with page.expect_response(lambda r: asked in r.url and "object=" in r.url):
                page.press("#object", "Enter")
            answered(page)
        until(page, "() => document.fonts.status === 'loaded'")
        settled(page, 10)
        assert len(page.inner_text("main")) > 100
        found = misfits_on_all_screens(page) + wrong_in(name, shown(page))
        if page.query_selector("#all") and page.is_visible("#all"):
            page.click("#all")
            found += [f"the list of the job: {line}" for line in misfits(page)]
    finally:
        page.close()
    assert found == []


# What the page shows, drawings included; what is typed keeps its own way (docs/words.md).
SHOWN = """() => [...document.querySelectorAll('main, main svg text')]
  .filter((e) => e.checkVisibility()).map((e) => e.innerText ?? e.textContent).join('\\n')"""
PHONES = ((390, 844), (320, 640)) if LONG else ((320, 640),)


def shown(page: Any) -> str:
    text: str = page.evaluate(SHOWN)
    assert len(text) > 30
    return text


def on_phones(page: Any, state: str) -> list[str]:
    """What is wrong in this state of a page on a phone, the narrowest alone where time is short."""
    # The handbook holds formulas and what is typed.
    found = [] if state.startswith("the handbook") else wrong_in(state, shown(page))
    for width, height in PHONES:
        page.set_viewport_size({"width": width, "height": height})
        settled(page)
        found += [f"{state}, {width} px: {line}" for line in misfits(page)]
    return found


def steps_of(page: Any) -> Iterator[str]:
    """Each way of the page 'find' from its first step to its end, its search included."""
    for way in page.locator("#ways label").all_inner_texts():
        page.locator("#ways label", has_text=way).click()
        for step in range(12):
            settled(page)
            yield f"{way}, step {step}: {page.inner_text('#answer')!r}"
            if page.inner_text("#answer").startswith("Back"):
                break
            other = page.locator("#paces .plainly")
            (other if other.count() else page.locator("#paces .act")).first.click()
        page.click("text=From the beginning")


def found_of(page: Any) -> Iterator[str]:
    while page.locator("#paces .act", has_text="I see it").count() == 0:
        page.locator("#paces .act").click()
    page.click("text=I see it")
    yield "found"


def forms_of(page: Any) -> Iterator[str]:
    """The evening before it begins and its forms, one after the other."""
    yield "before"
    page.click("#clouds")
    page.check("[name=direction][value=north-east]")
    yield "clouds"
    page.click("#hours")
    yield "hours"
    for back in (1, 2, 3):
        page.click(f"#drawing .stop >> nth=-{back}")
        yield f"a stop, {back} from the end"


def leaves_of(page: Any) -> Iterator[str]:
    yield "evenings"
    page.click("#sky-open")
    page.click("#moved-open")
    yield "forms"
    page.fill("#q", "Zubeneschamali")
    page.press("#q", "Enter")
    until(page, "() => document.querySelector('#found').textContent.includes('Zuben')")
    yield "search"
    page.click("#evenings .stop")
    until(page, "() => document.querySelectorAll('#drawing .stop').length > 2")
    yield "one evening"
    page.click("#drawing .stop >> nth=0")
    yield "asked"


def answers_of(page: Any) -> Iterator[str]:
    """The five answers of a new kit, each open."""
    page.fill("#place", "Vienna")
    until(page, "() => document.querySelectorAll('#places label').length === 3")
    for name in ("place", "mount", "tube", "eyepieces", "who"):
        yield name
        page.locator(f"#form-{name} > button").click()
        until(page, f"() => document.querySelector('#form-{name}').hidden")
    yield "all"


def lessons_of(page: Any) -> Iterator[str]:
    """Each step of the lesson, before the look and after it."""
    for step in ("axes", "still", "turning", "zenith"):
        page.click(f"#lesson-steps a[data-lesson={step}]")
        yield f"{step}, asked"
        page.locator("#guesses button").first.click()
        yield f"{step}, looked at"


def rehearsed_of(page: Any) -> Iterator[str]:
    """One step of each kind of the evening rehearsed."""
    acts = page.evaluate(
        "fetch('/answer/rehearse?day=2026-12-05').then(r => r.json())"
        ".then(d => d.steps.map(s => s.act))"
    )
    wanted = {act: acts.index(act) for act in dict.fromkeys(acts)}
    for number, act in enumerate(acts):
        if wanted[act] == number:
            yield act
        page.keyboard.press("ArrowRight")


def once(page: Any) -> Iterator[str]:
    yield "as it opens"


# Kit, address, the states it goes through.
STATES: dict[str, tuple[str, str, Callable[[Any], Iterator[str]]]] = {
    "steps and search": ("courtyard", "find?object=M57&at=2026-12-05T18:48Z&from=Deneb", steps_of),
    "steps in the south": ("paddock", "find?object=Zubeneschamali&at=2026-06-11T09:30Z", steps_of),
    "what Jupiter shows": ("courtyard", "find?object=Jupiter&at=2027-02-11T22:30Z", found_of),
    "what the Moon shows": ("paddock", "find?object=Moon&at=2026-12-20T11:00Z", found_of),
    "what cannot be found": ("paddock", "find?object=Zubeneschamali&at=2026-12-05T11:30Z", once),
    "the evening's forms": ("courtyard", "evening?at=2026-12-05T15:00Z", forms_of),
    "the evening in the south": ("paddock", "evening?at=2026-12-05T11:30Z", forms_of),
    "a logbook with an evening": ("paddock", "logbook?at=2026-12-05T11:30Z", leaves_of),
    "five answers": ("courtyard", "begin?aperture=130&focal=650&eyepieces=25,10", answers_of),
    "the board": ("courtyard", "board?at=2026-12-05T18:40Z&before=40", once),
    "the lesson": ("courtyard", "teach", lessons_of),
    "the evening rehearsed": (
        "paddock",
        "rehearse?day=2026-12-05&at=2026-12-05T05:00Z",
        rehearsed_of,
    ),
    "the handbook": ("courtyard", "handbook/evening", once),
    "nothing here": ("courtyard", "nothing/of/this/name", once),
}


def written(kit: Any, text: str) -> None:
    """An evening in the logbook, of long names."""
    if default_logbook().exists():
        return
    with Logbook(default_logbook()) as book:
        at = datetime(2026, 12, 4, 11, 30, tzinfo=UTC)
        number = book.begin_evening(date(2026, 12, 4), kit, text, at)
        for name in ("Zubeneschamali", "Great Sagittarius Cluster", "σ Octantis"):
            note = "the fainter star west of it seen by all but the two smallest visitors"
            book.add_stop(number, LoggedStop(at, name, name, visitors=12, note=note))
        book.add_axis_measure(number, at, "drift", 12.0, -5.0, ((4.0, 0.0), (0.0, 9.0)))


@pytest.mark.parametrize("state", STATES)
def test_words_of_a_state_fit(
    browser: Any, desks: dict[str, Live], state: str,
    tmp_path: Any, monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    kit, address, walk = STATES[state]
    desk = desks[kit].desk
    desk.seats.__init__()  # type: ignore[misc]
    desk._settings.clear()
    if walk is leaves_of:
        written(desk.kit, desk.text)
    context = browser.new_context(viewport={"width": 390, "height": 844})
    context.set_default_timeout(8000)
    try:
        if kit == "courtyard":
            serve_wider(context)
        page = context.new_page()
        page.goto(f"{desks[kit].url}/{address}")
        answered(page)
        until(page, "() => document.fonts.status === 'loaded'")
        found = [line for name in walk(page) for line in on_phones(page, f"{state}, {name}")]
    finally:
        context.close()
    assert found == []


BAD = """<style>body { margin: 0; font: 20px/1.3 serif; overflow-wrap: anywhere }</style>
<p style="width: 5em; overflow: hidden; white-space: nowrap">words that are cut</p>
<p style="width: 60px">unbreakablewords</p>
<p style="width: 70px">this goes down word after word</p>
<p style="font-size: 9px">small type</p>
<p style="margin: -24px 0 0">words that stand over others</p>
<svg width="100" height="40" viewBox="0 0 200 80"><text x="150" y="40" font-size="30">far out</text>
<text x="5" y="60" font-size="16">tiny</text></svg>"""


def test_each_kind_of_misfit_is_seen(browser: Any) -> None:
    context = browser.new_context(viewport={"width": 600, "height": 800})
    page = context.new_page()
    page.set_content(BAD)
    found = "\n".join(misfits(page))
    page.set_content("<p>Words that have all the room they need.</p>")
    fine = misfits(page)
    context.close()
    for kind in (
        "by p.: 'words that are cut'", "broken: 'unbreakablewords'", "one word wide: 'this goes",
        "9.0 px: 'small type'", "px: 'small type' and 'words that stand over others'",
        "by svg.: 'far out'", "8.0 px: 'tiny'",
    ):  # fmt: skip
        assert kind in found, (kind, found)
    assert fine == []
