"""No word of the handbook, as a site of its own, is cut, broken, over another or too small.

Every page in a typeface that is wider than ours, on the narrowest screen; AXLETREE_LONG=1 looks
on four.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

import build_site
from axletree.tell.shared.typeface import FACES
from words_fit import SCREENS, misfits_on_all_screens, wider

pytestmark = pytest.mark.browser
WIDTHS = (1440, 820, 390, 320) if os.environ.get("AXLETREE_LONG") else (320,)
HOST = "http://handbook.invalid"


def named(route: Any) -> str:
    """The file that a page asks for."""
    return str(route.request.url).removeprefix(f"{HOST}/")


def test_words_of_the_handbooks_site_fit(browser: Any, tmp_path: Path) -> None:
    build_site.build(tmp_path)
    for style in FACES:
        (tmp_path / "typeface" / f"{style}.woff2").write_bytes(wider(style))
    screens = tuple(screen for screen in SCREENS if screen[0] in WIDTHS)
    assert len(screens) == len(WIDTHS)
    pages = sorted(tmp_path.glob("*.html"))
    assert len(pages) > 15
    context = browser.new_context()
    # As from a server: from a file no browser takes a typeface.
    context.route(f"{HOST}/**", lambda route: route.fulfill(path=tmp_path / named(route)))
    page, found = context.new_page(), []
    try:
        for file in pages:
            page.goto(f"{HOST}/{file.name}")
            page.evaluate("() => document.fonts.ready.then(() => null)")
            page.evaluate(
                "() => Promise.all([...document.fonts].map((f) => f.load())).then(() => null)"
            )
            found += [f"{file.stem}, {line}" for line in misfits_on_all_screens(page, screens)]
    finally:
        context.close()
    assert found == [], "\n".join(found)
