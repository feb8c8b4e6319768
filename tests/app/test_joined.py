"""A page's modules in one file: of one form, each once, after what it needs; and kept."""

from __future__ import annotations

import re

import pytest
from fastapi.testclient import TestClient

from axletree.app.web.joined import exported, imported, joined
from axletree.app.web.pages import ASIDE, STATIC, edition, pages

NAMES = [page.name for page in (*ASIDE, *pages())]
MODULES = sorted(file.relative_to(STATIC).as_posix() for file in STATIC.rglob("*.js"))
# A statement of an import or export, from the start of its line to its end (ECMA-262, 16.2.2 and
# 16.2.3), in the few forms that the joining knows.
KNOWN = re.compile(
    r'import (?:\* as \w+|\{[^}]*\}) from "\.{1,2}/[a-z_/]+\.js";'
    r"|export (?:const [\w$]+ ?=|(?:async )?function [\w$]+\(|class \w+ )"
    r"|export \{[\w$, \n]*\};"
)


@pytest.mark.parametrize("name", MODULES)
def test_a_module_keeps_to_the_forms_that_can_be_joined(name: str) -> None:
    text = (STATIC / name).read_text("utf-8")
    for match in re.finditer(r"^(?:import|export)\b", text, re.M):
        assert KNOWN.match(text, match.start()), text[match.start() :][:80]
    # One name a statement: a second one would not be handed on.
    assert not re.search(r"^export const [\w$]+ = .*,$|^[\])}]+,$", text, re.M)
    for names, address in re.findall(r'^import \{([^}]*)\} from "([^"]+)";$', text, re.M):
        handed = exported((STATIC / name).parent.joinpath(address).read_text("utf-8"))
        taken = [row.split(" as ")[0].strip() for row in names.split(",") if row.strip()]
        assert set(taken) <= set(handed), address
    # What is exported never changes: it is handed on once.
    assert not re.search(r"^await ", text, re.M)


@pytest.mark.parametrize("name", NAMES)
def test_a_page_gets_each_module_once_after_what_it_needs(name: str) -> None:
    order = imported(STATIC, f"pages/{name}.js")
    assert len(order) > 5
    assert len(set(order)) == len(order)
    assert order[-1] == f"pages/{name}.js"
    text = joined(STATIC, f"pages/{name}.js")
    assert len(re.findall(r"^const \$\d+ = \(\(\) => \{$", text, re.M)) == len(order)
    assert not re.search(r"^(?:import|export)\b", text, re.M)
    for match in re.finditer(r"^const (?:\{[^}]*\}|\w+) = (\$\d+);$", text, re.M):
        assert f"const {match[1]} = (" in text[: match.start()], match[0]


def test_the_file_is_packed_once_and_kept(client: TestClient) -> None:
    address = f"/static/{edition()}/joined/start.js"
    assert address in client.get("/").text
    sent = client.get(address)
    assert sent.headers["content-encoding"] == "gzip"
    assert "immutable" in sent.headers["cache-control"]
    assert sent.headers["content-type"].startswith("text/javascript")
    plain = client.get(address, headers={"accept-encoding": "identity"})
    assert "content-encoding" not in plain.headers
    assert plain.text == sent.text == joined(STATIC, "pages/start.js")
    assert client.get(f"/static/{edition()}/joined/evening_now.js").status_code == 404
    assert client.get(f"/static/{edition()}/joined/../server.py").status_code == 404
