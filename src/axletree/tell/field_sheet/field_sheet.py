"""How does the whole evening become one file for a phone without a signal?

One HTML file: the app's own modules and the sheet's, joined by an import map of `data:`
addresses; the evening, its tables and the rig as JSON; a policy that lets nothing else run and
nothing be fetched. Names and notes are data and never markup. Where no script runs, the file
still shows the whole evening in words.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
import zlib
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

from axletree.evening.sheet.tables import NightTables
from axletree.kit.errors import AxletreeError
from axletree.mount.room.side_answer import SideWarning
from axletree.mount.room.table import RoomTable
from axletree.tell.evening.document import Evening, evening_json
from axletree.tell.evening.stop_data import stop_facts
from axletree.tell.field_sheet.tables_data import tables_data
from axletree.tell.field_sheet.text import field_words, warning_sentence
from axletree.tell.shared.rig_data import rig_data
from axletree.tell.shared.typeface import whole_faces

HERE = Path(__file__).parent / "static"
# The app's modules that draw and reckon without a server; the sheet's own may import them.
SHARED_FROM = Path(__file__).parents[2] / "app" / "static" / "shared"
WORDS = "words/"
SERVED_ONLY = ("page.js", "link.js")
LARGEST_BYTES = 600_000
_IMPORT = re.compile(
    r'(\bfrom\s+|\bimport\s*\(\s*|\bimport\s+)"(?:\./|\.\./(words/))([a-z_]+\.js)"'
)
_COMMENT = re.compile(r"^\s*//.*\n|^\s*/\*\*(?s:.*?)\*/[ ]*\n|^[ ]+", re.MULTILINE)
# What a data: address may hold as it is; '<' must not, for it stands inside a script element.
_PLAIN = " !\"$&'()*+,-./:;=>?@[\\]^_`{|}~"
# The rules of the app's sheet that say which paper, pen and light there are.
_LIGHT_RULE = re.compile(
    r'^(?::root|\[data-light="(?:dusk|red)"\](?: \.redlight)?|\.redlight) \{[^}]*\}',
    re.MULTILINE,
)


def field_sheet(
    evening: Evening, tables: NightTables, room_table: RoomTable, *, kit_toml: str
) -> bytes:
    """The file. Refuses to make one larger than 600 kB.

    `kit_toml` is the kit's own text, for the logbook that the phone's notes go to.
    """
    data = {
        "uid": sheet_uid(evening),
        "evening": json.loads(evening_json(evening)),
        "spares": [
            json.loads(stop_facts(spare, evening.units).model_dump_json())
            for spare in tables.spares
        ],
        "tables": tables_data(tables, evening.units),
        "rig": rig_data(room_table.rig),
        "kit_toml": kit_toml,
        "sayings": {
            warning.value: warning_sentence(warning)
            for warning in (
                SideWarning.BARREL_DOWN,
                SideWarning.WEIGHTS_UP,
                SideWarning.WEIGHTS_WILL_RISE,
            )
        },
    }
    style, modules, boot = _style(), _import_map(), _read(HERE / "boot.js")
    text = _packed(data)
    # Only scripts that carry this number run, and what they import. It is a hash of the whole
    # sheet, so that no name or note in it can hold it beforehand.
    nonce = hashlib.sha256((text + modules + boot).encode()).hexdigest()[:32]
    policy = "; ".join(
        (
            "default-src 'none'",
            f"script-src 'nonce-{nonce}'",
            f"style-src {_hash(style)}",
            "img-src data:",
            "font-src data:",
            "base-uri 'none'",
            "form-action 'none'",
            "require-trusted-types-for 'script'",
        )
    )
    page = _template().render(
        policy=policy,
        style=_unescaped(style),
        modules=_unescaped(modules),
        boot=_unescaped(boot),
        data=text,
        nonce=nonce,
        evening=evening,
        **field_words(evening),
    )
    content: bytes = page.encode()
    if len(content) > LARGEST_BYTES:
        raise AxletreeError(
            f"the field sheet would take {len(content) // 1000} kB, more than "
            f"{LARGEST_BYTES // 1000}: choose fewer hours or longer stops"
        )
    return content


def sheet_uid(evening: Evening) -> str:
    """The evening's number in the logbook: the same for every phone that carries this sheet."""
    return hashlib.sha256(evening_json(evening).encode()).hexdigest()[:16]


def _packed(data: Any) -> str:
    """The data as base64 of deflated JSON: small, and without a single character of markup."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    deflate = zlib.compressobj(9, zlib.DEFLATED, -15)
    return base64.b64encode(deflate.compress(text.encode()) + deflate.flush()).decode()


@cache
def _import_map() -> str:
    """All modules that field.js needs, as an import map; `./x.js` is known as 'axletree/x.js'."""
    imports: dict[str, str] = {}
    waiting = ["field.js"]
    while waiting:
        name = waiting.pop()
        if f"axletree/{name}" in imports:
            continue
        if name in SERVED_ONLY:
            raise AxletreeError(f"the field sheet has no server: nothing in it may import {name}")
        own = HERE / name
        shared = SHARED_FROM.parent if name.startswith(WORDS) else SHARED_FROM
        text = _read(own if own.is_file() else shared / name)
        waiting += [_module(match) for match in _IMPORT.finditer(text)]
        text = _IMPORT.sub(lambda m: f'{m[1]}"axletree/{_module(m)}"', text)
        code = quote(_COMMENT.sub("", text), safe=_PLAIN)
        imports[f"axletree/{name}"] = f"data:text/javascript;charset=utf-8,{code}"
    return json.dumps({"imports": imports}, separators=(",", ":"))


def _module(found: re.Match[str]) -> str:
    """'x.js' or 'words/x.js'."""
    return f"{found[2] or ''}{found[3]}"


@cache
def _style() -> str:
    """The typeface, the app's paper, pen and light, then the sheet's own rules."""
    light = _LIGHT_RULE.findall(_read(SHARED_FROM / "sheet.css"))
    if len(light) < 5:
        raise AxletreeError("the app's sheet.css no longer holds the rules of the three lights")
    return "\n".join((whole_faces(), *light, _read(HERE / "field.css")))


def _read(file: Path) -> str:
    return file.read_text(encoding="utf-8").strip()


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _unescaped(text: str) -> Any:
    """Text of our own making that goes into style and script elements as it is."""
    from markupsafe import Markup

    if "</" in text:
        raise AxletreeError("a script or style of the field sheet would end its element early")
    return Markup(text)


@cache
def _template() -> Any:
    import jinja2

    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(HERE),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        newline_sequence="\n",
    )
    return environment.get_template("sheet.html")
