"""A link that is lost: pages that were opened open again, with what was last answered, since when.

Where the browser lets no worker hold pages (plain http from another machine: W3C, Secure Contexts,
3.1) the page says so. Nothing of a person is kept, and the policy of a held page is the sent one.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from desks import Live, answered, make_desk, until

from axletree.app.web.guard import CONTENT_POLICY

pytestmark = pytest.mark.browser
# Everything that this browser keeps for the worker, as text.
HELD = """async () => {
  const all = [];
  for (const name of await caches.keys()) {
    const held = await caches.open(name);
    for (const asked of await held.keys()) {
      const reply = await held.match(asked), words = [...reply.headers].join(" ");
      const text = asked.url.endsWith("woff2") ? "" : await reply.text();
      all.push([new URL(asked.url).pathname + new URL(asked.url).search, words + text]);
    }
  }
  return all;
}"""
# Answers that were kept are as old as asked, ms; and so many others are kept beside them.
AGED = """async ([age, others]) => {
  const held = await caches.open("axletree-answers");
  for (const asked of await held.keys()) {
    const kept = await (await held.match(asked)).json();
    await held.put(asked, new Response(JSON.stringify({ ...kept, at: Date.now() - age })));
  }
  for (let i = 0; i < others; i += 1)
    await held.put(`/kept/point?object=${i}`, new Response(JSON.stringify({ at: 0, data: null })));
}"""
MOST_KEPT, DAY_MS = 60, 24 * 3_600_000  # docs/screens.md: for a day
LOST = "() => document.querySelector('#notice').textContent.includes('No link')"


@pytest.fixture
def alone(tmp_path: Any) -> Iterator[Live]:
    """A server of its own, so that its link can be cut for the worker too."""
    running = Live(make_desk(folder=tmp_path)).start()
    yield running
    running.stop()


def held(page: Any, path: str) -> None:
    until(page, f"async () => (await ({HELD})()).some(([asked]) => asked === {path!r})")


def notice(page: Any) -> str:
    return str(page.inner_text("#notice"))


def test_a_page_that_was_opened_opens_without_a_link(browser: Any, alone: Live) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    context.set_default_timeout(20_000)
    troubles: list[str] = []
    page = context.new_page()
    page.on("pageerror", lambda error: troubles.append(str(error)))
    # Of an edition that was here before nothing is held on; what is another's stays.
    page.goto(f"{alone.url}/answer/here")
    page.evaluate("Promise.all(['axletree-000000000000', 'other'].map((n) => caches.open(n)))")
    page.goto(f"{alone.url}/balance")
    answered(page)
    told = page.inner_text("#answer")
    held(page, "/balance")
    until(page, "() => Boolean(navigator.serviceWorker.controller)")
    until(page, "async () => !(await caches.has('axletree-000000000000'))")
    assert page.evaluate("caches.has('other')")
    # More than so many answers are not held on: the oldest go.
    page.evaluate(AGED, [0, MOST_KEPT + 5])
    page.reload()
    answered(page)
    most = "async () => (await (await caches.open('axletree-answers')).keys()).length"
    until(page, f"async () => (await ({most})()) === {MOST_KEPT}")
    assert any(path.startswith("/kept/balance?") for path, _ in page.evaluate(HELD))
    page.click("[data-choose-light=red]")
    kept = dict(page.evaluate(HELD))
    whole = " ".join(kept.values()).lower()
    # Nobody's name, number, cookie or code; no answer about people.
    cookies = [cookie["value"] for cookie in context.cookies() if "seat" in cookie["name"]]
    assert cookies
    assert not [value for value in cookies if value in whole]
    assert "set-cookie" not in whole
    assert 'data-leader=""' in kept["/balance"]
    assert 'data-number="0"' in kept["/balance"]
    assert not [path for path in kept if path.startswith(("/kept/here", "/kept/sharing", "/enter"))]
    assert CONTENT_POLICY in kept["/balance"]

    alone.stop()
    page.goto(f"{alone.url}/balance")
    until(page, LOST)
    until(page, f"() => document.querySelector('#answer').innerText === {json.dumps(told)}")
    assert "What stands here was answered at" in notice(page)
    assert "Leave this page open" not in notice(page)
    # In the light of now, not of then, and under the same policy.
    assert page.evaluate("document.documentElement.dataset.light") == "red"
    refused = page.evaluate(
        "async () => { try { await fetch('data:text/plain,x'); return false; }"
        " catch { return true; } }"
    )
    assert refused
    # What was never opened isn't there; nothing is made up.
    other = context.new_page()
    with pytest.raises(Exception, match=r"ERR_FAILED|ERR_CONNECTION_REFUSED"):
        other.goto(f"{alone.url}/north")

    # For a day, and no longer.
    page.evaluate(AGED, [DAY_MS - 60_000, 0])
    page.reload()
    until(page, f"() => document.querySelector('#answer').innerText === {json.dumps(told)}")
    assert re.search(r"was answered at \d\d:\d\d on \d", notice(page))
    page.evaluate(AGED, [DAY_MS + 1000, 0])
    other.goto(f"{alone.url}/balance")
    until(other, LOST)
    until(other, "() => document.querySelector('#notice').textContent.includes('Nothing was kept')")
    assert other.inner_text("#answer") != told
    assert other.evaluate("document.querySelector('main fieldset').inert"), "nothing to be set"

    # The link comes back: a page that stands empty begins anew, and what stands on the first one is
    # of now again, and says nothing of then.
    with other.expect_navigation():
        again = Live(make_desk(), port=alone.port).start()
    answered(other)
    until(page, "() => document.querySelector('#notice').hidden")
    assert page.inner_text("#answer") == told
    assert not troubles, troubles
    context.close()
    again.stop()


def test_what_is_shown_gives_way_to_nothing_older(visit: Callable[..., Any]) -> None:
    """And where pages can't be held, as over plain http from a phone, the page says so."""
    page = visit("level", service_workers="allow")
    answered(page)
    held(page, "/kept/level?divisions=0.00&towards=0.0&rim=false&shorten=false")
    page.context.set_offline(True)
    page.evaluate("window.dispatchEvent(new Event('offline'))")
    until(page, LOST)
    assert "answered at" not in notice(page)
    assert "Leave this page open" not in notice(page)
    page.context.set_offline(False)
    insecure = visit("level")
    answered(insecure)
    insecure.evaluate("Object.defineProperty(window, 'isSecureContext', { value: false })")
    insecure.evaluate("window.dispatchEvent(new Event('offline'))")
    until(insecure, LOST)
    assert "Leave this page open" in notice(insecure)
