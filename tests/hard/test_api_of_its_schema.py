"""Every route of the app, asked by three callers with right and wrong words of its own schema.

The schema is the app's own (OpenAPI 3.1, made by FastAPI); schemathesis draws from it what fits
and what just doesn't. Beside that stand lists of what a stranger would try. What must hold for
each reply is in `asker.complaints`; beyond it:

* who has no seat gets no answer, a kit's word least of all, and changes nothing;
* who looks changes nothing but their own wish to lead;
* nobody makes the app open a file outside the kit's folder, or start or fetch anything.

AXLETREE_LONG=1 goes on for AXLETREE_LONG_S seconds (600) with other seeds in each round.
"""

from __future__ import annotations

import hashlib
import io
import itertools
import json
import os
import sys
import time
import warnings
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlencode

import pytest
from asker import MARK, Asked, Asker, Caller, Reply, complaints
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from PIL import Image
from watchman import on_watch

sys.path.insert(0, str(Path(__file__).parents[1] / "app"))

from desks import HOST, MARKED_PICTURES, make_desk

from axletree.app.people import turns
from axletree.app.people.sharing import Sharing
from axletree.app.server import make_app
from axletree.kit.kit import demo_text

LONG = bool(os.environ.get("AXLETREE_LONG"))
LONG_S = float(os.environ.get("AXLETREE_LONG_S", "600"))
EXAMPLES = 2
SECRETS = ("School courtyard", "latitude_deg", "[tube]")
AT, DAY = "2026-12-05T20:30:00+01:00", "2026-12-05"
LATER = "2026-12-05T20:45:00+01:00"  # in a stop that was planned at AT
KEPT = {"at": AT, "day": DAY}

# A body that each changing route takes, so that one wrong word at a time can be put into it.
RIGHT: dict[str, Any] = {
    "POST /enter": {"code": "12345678", "name": "Ana", "to": "/kit"},
    "PUT /settings/{name}": {"object": "Vega"},
    "PUT /check/sheet": {"at": AT, "method": "drift", "id": "abcdef1", "rows": [
        {"hour_angle_h": "0.5", "declination_deg": "10", "watched_s": "300",
         "drift_arcsec": "12"}]},
    "POST /check/turned": {"at": AT, "altitude_turns": 0.25, "azimuth_turns": 0.0},
    "PUT /check/pictures/{key}": {},  # no JSON: see `PICTURE`
    "POST /check/pictures/measure": {"at": AT, "keys": ["abcdef1", "abcdef2"]},
    "POST /check/pictures/follow": {"at": AT, "keys": ["abcdef1"]},
    "POST /evening/hours": {**KEPT, "start": "19:30", "hours": 3.0},
    "POST /evening/tick": {**KEPT, "key": "NGC 224", "uid": "0123456789abcdef", "state": "done",
                           "visitors": 3, "note": "clear"},
    "POST /evening/back": KEPT,
    "POST /evening/order": {**KEPT, "keys": []},
    "POST /evening/again": {**KEPT, "in_min": 5.0},
    "POST /evening/longer": {**KEPT, "at": LATER, "minutes": 5.0},
    "POST /evening/clouds": {**KEPT, "directions": ["north"], "part": "low", "minutes": 20.0},
    "POST /evening/open": {**KEPT, "which": 0},
    "POST /evening/promise": {**KEPT, "key": "saturn", "promised": True},  # the last to come
    "POST /answer/kit/check": {"text": demo_text("courtyard"), "units": "metric", "edits": [
        {"path": ["tube", "aperture_mm"], "value": "150", "what": "set"}]},
    "POST /answer/kit/new": {"name": "mine", "place": "Vienna", "kind": "refractor",
                             "aperture_mm": 100.0, "focal_length_mm": 700.0, "size": "small",
                             "motion": "hand"},
    "PUT /kit": {"text": demo_text("courtyard"), "revision": 1},
    "POST /logbook/note": {"at": AT, "evening": 0, "uid": "0123456789abcdef", "text": "dew"},
    "POST /logbook/sky": {"at": AT, "evening": 0, "uid": "0123456789abcde0",
                          "seeing_arcsec": 2.0, "words": "calm"},
    "POST /logbook/found": {"at": AT, "evening": 0, "uid": "0123456789abcde1", "object": "M57",
                            "way": "turns", "found": True, "minutes": 4.0},
    "POST /logbook/work": {"at": AT, "evening": 0, "uid": "0123456789abcde4", "work": "set_up",
                           "minutes": 35.0},
    "POST /logbook/moved": {"at": AT, "moved": "hour_circle", "uid": "0123456789abcde2"},
    "POST /logbook/moved/take-back": {"at": AT, "uid": "0123456789abcde2"},
    "POST /logbook/gap": {"at": AT, "uid": "0123456789abcde3", "object": "Vega", "side": "west",
                          "left": "15 ± 4"},
    "POST /logbook/gap/take-back": {"at": AT, "uid": "0123456789abcde3"},
    "POST /answer/kit/photographs": {"text": demo_text("courtyard"), "pictures": MARKED_PICTURES},
    "POST /answer/kit/measure": {"text": demo_text("courtyard"), "units": "metric",
                                 "key": "tube.length_mm", "typed": "700 ± 2"},
    "POST /kit/part": {"part": "tube", "name": "", "revision": 1},
    "POST /logbook/take-back": {"at": AT, "evening": 1, "uid": "0123456789abcdef"},
    "POST /logbook/import": {"at": AT, "export": {"version": 1, "evenings": []}},
    "POST /answer/spot": {"date": DAY, "spacing_m": 2.0, "pole_needed": True, "yard": {
        "area_m": [[0.0, 0.0], [8.0, 0.0], [8.0, 8.0]]}},
    "PUT /kit/yard": {"revision": 1, "yard": {"area_m": [[0.0, 0.0], [8.0, 0.0], [8.0, 8.0]]}},
}  # fmt: skip
PICTURE = "PUT /check/pictures/{key}"
# What only pictures of the sky make answer: `app/test_check_pictures_page.py` has them.
BY_STARS = {"POST /check/pictures/measure", "POST /check/pictures/follow"}


def picture() -> bytes:
    """A picture of nothing, which the app keeps."""
    out = io.BytesIO()
    Image.new("L", (120, 110), 7).save(out, "PNG")
    return out.getvalue()


# Words that a route takes, for the places of its path and its query.
LIKELY: dict[str, Sequence[str]] = {
    "at": (AT, "2026-12-05T22:10"), "day": (DAY,), "first": (DAY,), "date": (DAY,),
    "object": ("Vega", "M42", "moon", MARK), "eyepiece": ("", MARK), "q": ("ve", "m 4", MARK),
    "to": ("/kit", "//evil.example", MARK), "on": ("fri,sat",), "weights": ("0@10", "0@10,0@90"),
    "name": ("kit", "level", "evening", "courtyard"), "file": ("room.svg",),
    "table": ("note", "stop"), "touching": (f"tube|{MARK}",), "landmark": ("48.2,16.4", MARK),
    "landmark_name": (MARK,),
}  # fmt: skip
USUAL = {
    "/check/pictures/{key}": "abcdef1",
    "/answer/kit/demo/{name}": "courtyard",
    "/handbook/pictures/{file}": "check.svg",
}
# JSON as text: what must stand in no place of a body.
ODD_VALUES = (
    "NaN", "-Infinity", "1e999", "-1", "0", "1e308", "9" * 30, "9" * 5000, "null", "true", "[]",
    "{}", '""', '"\\ud800"', '"\\u0000"', '"\\u001b[31m\\r\\nX: y"', json.dumps(MARK),
    '"../../../../etc/passwd"', '"/etc/passwd"', '"' + "A" * 30_000 + '"', "[" * 90 + "]" * 90,
    '{"__proto__": {"a": 1}}', '["\\u202e", 1, null]', '"0001-01-01"', '"9999-12-31T23:59:59Z"',
)  # fmt: skip
ODD_WORDS = (
    "nan", "inf", "-inf", "1e999", "-1", "1e308", "9" * 30, "9" * 5000, "%00", "", "%20",
    "..%2f..%2f..%2fetc%2fpasswd", "%2e%2e%2f%2e%2e%2fetc%2fpasswd", "%2fetc%2fpasswd", "..",
    "%2e%2e", "%5c..%5c..%5cwindows", "@%2fetc%2fpasswd", "--notes=%2fetc%2fpasswd", "-h",
    "--help", "%ed%a0%80", "%ff%fe", "%0d%0aX-Y:%201", "%1b%5b31m", "%e2%80%ae", "%d9%a1",
    quote(MARK), quote("<svg onload=alert(1)>"), "A" * 3000, "%25%32%65", "null", "true",
    "0001-01-01", "9999-12-31", "0001-01-01T00:00%2b23:59", "9999-12-31T23:59:59-23:59",
    "1582-10-10", "%f0%9f%94%ad", "courtyard%00.toml", "{0.__class__}", "%25s%25n",
)  # fmt: skip
# Kits that take a TOML reader for ever, or that it can't read.
ODD_TEXTS = (
    "a" + ".a" * 50_000 + "=1",
    "".join(f"[a{k}]\n" for k in range(15_000)),
    "a=" + "9" * 90_000,
    "a=0x" + "f" * 90_000,
    "a=" + "[" * 50_000,
    "a=" + "[\n" * 1900,
    "a={" * 2000,
    "\0",
    "".join(f"b{k}" + ".a" * 7 + "=1\n" for k in range(1900)),
    "[[yard.post]]\nx=1\n" * 990,
    'name="' + "\\u0041" * 1500 + '"',
    "\ufeff" + demo_text("courtyard"),
    "\r" * 50_000,
)
ODD_BODIES = (
    (b"", "application/json"), (b"{", "application/json"), (b"null", "application/json"),
    (b"[]", "application/json"), (b"{}", "application/json"), (b'"x"', "application/json"),
    (b"1e999", "application/json"), (b"NaN", "application/json"),
    (b"[" * 100_000, "application/json"), (b"[" * 100_000 + b"]" * 100_000, "application/json"),
    (b'{"a":' * 50_000 + b"1" + b"}" * 50_000, "application/json"),
    (b"9" * 100_000, "application/json"), (b"\xff\xfe{}", "application/json"),
    (b"\xef\xbb\xbf{}", "application/json"), ("{}".encode("utf-16"), "application/json"),
    (b'{"at": 1, "at": 2}', "application/json"), (b"\0" * 1000, "application/json"),
    (b"x" * 700_000, "application/json"), (b"{}", "text/plain"), (b"{}", "application/xml"),
    (b"<!DOCTYPE x [<!ENTITY e SYSTEM 'file:///etc/passwd'>]><x>&e;</x>", "application/xml"),
    (b"a=1&a=2", "application/x-www-form-urlencoded"), (b"&" * 500_000, "text/plain"),
    (b"=" * 500_000, "application/x-www-form-urlencoded"),
    (b"%" * 3000, "application/x-www-form-urlencoded"),
    (b'--b\r\nContent-Disposition: form-data; name="f"; filename="../../x"\r\n\r\n1\r\n--b--',
     "multipart/form-data; boundary=b"),
    (b"{}", "application/json; charset=utf-7"), (b"{}", "\x7f\xff"), (b"{}", "a" * 5000),
)  # fmt: skip
ODD_HEADERS: tuple[tuple[tuple[str, str], ...], ...] = (
    (("host", ""),), (("host", "\0gone"),), (("host", "evil.example"),),
    (("host", "127.0.0.1:8765.evil.example"),), (("host", "127.0.0.1:8765@evil.example"),),
    (("host", HOST), ("host", "evil.example")), (("host", HOST + "\x85"),),
    (("host", "2130706433:8765"),), (("host", "[::ffff:127.0.0.1]:8765"),),
    (("origin", "null"),), (("origin", "\0gone"),), (("origin", "http://evil.example"),),
    (("origin", f"http://{HOST}"), ("origin", "http://evil.example")),
    (("origin", f"http://{HOST}.evil.example"),), (("origin", f"https://{HOST}"),),
    (("sec-fetch-site", "cross-site"),), (("sec-fetch-site", "same-site"),),
    (("sec-fetch-site", "nonsense"),),
    (("sec-fetch-site", "cross-site"), ("sec-fetch-mode", "navigate")),
    (("cookie", "axletree_seat=" + "A" * 60_000),), (("cookie", "\\" * 30_000),),
    (("cookie", 'axletree_seat="' + "\\" * 20_000 + '"'),), (("cookie", "=;=;,\xff\x00"),),
    (("cookie", "axletree_seat=../../etc/passwd"),), (("cookie", "axletree_light=" + MARK),),
    (("cookie", "axletree_seat=a; axletree_seat=b"),),
    (("content-length", "-1"),), (("content-length", "1e3"),), (("content-length", "\xb2"),),
    (("content-length", "9" * 5000),), (("content-length", "99999999"),),
    (("content-length", "0x10"),), (("transfer-encoding", "chunked"), ("content-length", "3")),
    (("transfer-encoding", "gzip"),), (("x-forwarded-for", "127.0.0.1"),),
    (("forwarded", "for=127.0.0.1"),), (("x-http-method-override", "PUT"),),
    (("accept", "text/html;q=" + "9" * 9000),), (("range", "bytes=0-0,-1,5-2"),),
    (("if-modified-since", "\xff"),), (("upgrade", "websocket"), ("connection", "Upgrade")),
    (("expect", "100-continue"),), (("accept-encoding", "gzip;q=0, br, *;q=\x80"),),
)  # fmt: skip


@dataclass
class World:
    """An app with three callers, what was wrong, and how to look whether anything changed."""

    folder: Path
    desk: Any
    asker: Asker
    schema: dict[str, Any]
    stranger: Caller
    looker: Caller
    leader: Caller
    far_leader: Caller
    wrong: dict[str, str]
    done: set[str]

    def state(self) -> dict[str, Any]:
        """Everything that only a leader may change."""
        files = {
            str(p.relative_to(self.folder)): hashlib.sha256(p.read_bytes()).hexdigest()
            for p in sorted(self.folder.rglob("*")) if p.is_file()
        }  # fmt: skip
        seats = self.desk.seats._seats
        return {
            "files": files, "text": self.desk.text, "revision": self.desk.revision,
            "settings": json.dumps(self.desk.all_settings(), sort_keys=True),
            "leader": self.desk.seats._leader, "code": self.desk.sharing.code,
            "names": [(s.token, s.name, s.links) for s in seats.values()],
        }  # fmt: skip

    def send(self, asked: Asked, caller: Caller, secret: Sequence[str] = ()) -> Reply:
        """Ask, and note what is wrong with the reply."""
        with on_watch(self.folder) as watch:
            reply = self.asker.ask(asked, caller)
        if reply.status < 400:
            self.done.add(asked.label)
        for words in complaints(asked, reply, secret):
            self.note(words, asked, caller)
        for what in watch.seen[:1]:
            self.note(f"the watchman saw {what}", asked, caller)
        return reply

    def note(self, words: str, asked: Asked, caller: Caller) -> None:
        route = asked.label or f"{asked.method} {asked.target[:40]}"
        key = f"{caller.word}: {route}: {words[:60]}"
        self.wrong.setdefault(key, f"{words}\n      {asked}")

    def lead(self, caller: Caller) -> None:
        seat = self.desk.seats.of(caller.cookie)
        if self.desk.seats._leader != caller.cookie:
            self.desk.seats.hand_over(seat)

    def told(self) -> None:
        """Fail with everything that was found."""
        lines = [f"* {key}\n      {words}" for key, words in self.wrong.items()]
        print(f"{self.asker.count} requests; slowest {self.asker.slowest}")
        assert not lines, f"{len(lines)} kinds of things wrong:\n" + "\n".join(lines)


@pytest.fixture
def world(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[World]:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "record"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(turns, "FULL_S", 1e9)  # thousands of questions from one seat
    desk = make_desk(folder=tmp_path, sharing=Sharing("http://192.168.7.1:8765/"))
    app = make_app(desk, [HOST, "192.168.7.1:8765"])
    schema = app.openapi()
    seats = desk.seats
    leader = Caller("leads", "127.0.0.1", seats.take("", here=True).token)
    far = Caller("leads from afar", "192.168.7.9", seats.take("Bea", here=False).token)
    looker = Caller("looks", "192.168.7.8", seats.take("Ana", here=False).token)
    stranger = Caller("stranger", "192.168.7.20", "x" * 43)
    asker = Asker(app)
    # Modules and data that are read once are read before anybody is on watch.
    for path in ("/answer/pole", "/answer/point?object=Vega", "/handbook/index"):
        asker.ask(Asked("GET", path), leader)
    yield World(tmp_path, desk, asker, schema, stranger, looker, leader, far, {}, set())
    asker.close()


def operations(schema: dict[str, Any]) -> Iterator[tuple[str, str, str, dict[str, Any]]]:
    """(label, method, path, what the schema says) of everything that can be asked."""
    for path, of_path in schema["paths"].items():
        for method, said in of_path.items():
            yield f"{method.upper()} {path}", method.upper(), path, said


# -- the schema is whole ----------------------------------------------------------------------


def test_every_route_stands_in_the_schema_with_its_body(world: World) -> None:
    from fastapi.routing import APIRoute, iter_route_contexts
    from starlette.routing import Mount

    known = {(method, path) for _, method, path, _ in operations(world.schema)}
    found = set()
    app = world.asker.app
    for route in app.routes:
        if isinstance(route, Mount):
            assert route.path.startswith("/static/")
    for context in iter_route_contexts(app.routes):
        if isinstance(context.original_route, Mount):
            continue
        assert isinstance(context.original_route, APIRoute)
        found |= {(method, context.path) for method in context.methods or ()}
    assert found == known
    for label, method, _, said in operations(world.schema):
        assert ("requestBody" in said) == (label in RIGHT), label
        assert method in ("GET", "PUT", "POST"), label


# -- lists of what a stranger would try -------------------------------------------------------


def targets(path: str, said: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Paths and queries: as they should be, then with one odd word in each place in turn."""
    asked = said.get("parameters", [])
    places = [p["name"] for p in asked if p["in"] == "path"]
    words = [p["name"] for p in asked if p["in"] == "query"]

    def built(odd_at: str = "", odd: str = "") -> str:
        filled = path
        for name in places:
            usual = quote(USUAL.get(path) or LIKELY.get(name, ("1",))[0])
            filled = filled.replace("{" + name + "}", odd if name == odd_at else usual)
        needed = [p["name"] for p in asked if p["in"] == "query" and p.get("required")]
        given = {n: quote(LIKELY[n][0], safe="") for n in words if n in needed or n in ("at", "q")}
        if odd_at in words:
            given[odd_at] = odd
        return filled + ("?" + "&".join(f"{k}={v}" for k, v in given.items()) if given else "")

    yield "", built()
    for name in places + words:
        for odd in ODD_WORDS:
            yield name, built(name, odd)


def requests(schema: dict[str, Any]) -> Iterator[Asked]:
    """Every route with its right words, then with odd ones in one place."""
    for label, method, path, said in operations(schema):
        right = RIGHT.get(label)
        form = label == "POST /enter"
        kind = "application/x-www-form-urlencoded" if form else "application/json"
        whole = (urlencode(right) if form else json.dumps(right)).encode() if right else b""
        if label == PICTURE:
            whole, kind = picture(), "image/png"
        for _, target in targets(path, said):
            yield Asked(method, target, whole, kind, label=label)
        target = next(targets(path, said))[1]
        if right is None:
            continue
        for name in right:
            for odd in ODD_VALUES:
                rest = {k: v for k, v in right.items() if k != name}
                if form:
                    body = urlencode({**rest, name: odd}).encode()
                else:
                    inner = json.dumps(rest)[1:-1]
                    body = f"{{{json.dumps(name)}: {odd}{', ' if inner else ''}{inner}}}".encode()
                yield Asked(method, target, body, kind, label=label)


def wild(schema: dict[str, Any]) -> Iterator[Asked]:
    """Odd bodies on each route that takes one, odd headers and methods on a few."""
    for label, method, path, said in operations(schema):
        target = next(targets(path, said))[1]
        if label in RIGHT:
            for body, kind in ODD_BODIES:
                yield Asked(method, target, body, kind, pieces=3, label=label)
        for text in ODD_TEXTS if label in ("PUT /kit", "POST /answer/kit/check") else ():
            body = json.dumps({**RIGHT[label], "text": text}).encode()
            yield Asked(method, target, body, label=label)
        if label in ("GET /", "GET /answer/level", "PUT /settings/{name}", "POST /enter"):
            whole = json.dumps(RIGHT.get(label, {})).encode() if label in RIGHT else b""
            for headers in ODD_HEADERS:
                yield Asked(method, target, whole, headers=headers, label=label)
    for method, target in itertools.product(
        ("OPTIONS", "TRACE", "CONNECT", "DELETE", "PATCH", "HEAD", "PROPFIND", "get", "X" * 900),
        ("/", "/kit", "/answer/kit", "/settings/level", "*", "127.0.0.1:22", "http://evil/"),
    ):
        yield Asked(method, target, label=f"{method[:20]} {target}")
    for target in ("//", "/%00", "/answer/../kit", "/%2e%2e/%2e%2e/etc/passwd", "/answer//kit",
                   "/" + "a/" * 3000, "/openapi.json", "/docs", "/redoc", "/.env", "/kit/",
                   "/static/..%2f..%2fserver.py", "/static/%2e%2e/server.py", "/favicon.ico",
                   "/enter/../kit", "/enter%2f..%2fkit", "/enterkit", "/static/../answer/kit",
                   "/static%2f..%2fanswer%2fkit", "/answer", "/answer/", "/events/", "/EVENTS",
                   "/Answer/kit", "/answer/kit;a=1", "/answer/kit%00", "/answer/kit%20",
                   "/axletree.toml", "/" + quote(MARK)):  # fmt: skip
        yield Asked("GET", target, label=f"GET {target[:40]}")


@pytest.mark.parametrize("who", ["leader", "far_leader"])
def test_a_leader_with_odd_words(world: World, who: str) -> None:
    begin(world)
    caller: Caller = getattr(world, who)
    some = requests(world.schema)
    if who == "far_leader":  # what differs from afar: the kit and its files
        some = (a for a in some if "/kit" in a.label or "/lead" in a.label)
    if who == "leader":  # each route does what it is for, and doesn't only refuse
        for asked in each(requests(world.schema), 0):
            world.lead(caller)
            world.send(up_to_date(asked, world.desk.revision), caller)
        refusing = {label for label, *_ in operations(world.schema)} - world.done
        # The right code is a test of its own.
        assert refusing == {"POST /enter", *BY_STARS}
    for asked in itertools.chain(
        each(some, 61), each(wild(world.schema), 13) if who == "leader" else ()
    ):
        world.lead(caller)
        world.send(up_to_date(asked, world.desk.revision), caller)
    world.told()


def test_others_with_odd_words(world: World) -> None:
    begin(world)
    for asked in itertools.chain(each(requests(world.schema), 67), each(wild(world.schema), 17)):
        looked_at(world, asked)
        refused(world, asked)
    assert undo(world) == "planned around clouds"
    world.told()


def each(asked: Iterator[Asked], step: int) -> Iterator[Asked]:
    """One in so many, and each route's first (0: that alone); all of them in a long run.

    The lists' lengths and the steps have no common factor: over the routes every word comes up.
    """
    before = ""
    for number, one in enumerate(asked):
        if one.label != before or (step and (LONG or number % step == 0)):
            yield one
        before = one.label


def up_to_date(asked: Asked, revision: int) -> Asked:
    """A change of the kit that says which revision it was made from."""
    said = f'"revision": {revision}'.encode()
    return replace(asked, body=asked.body.replace(b'"revision": 1', said))


def begin(world: World) -> None:
    """An evening under way: ticks, an own order, settings, a logbook."""
    world.lead(world.leader)
    for label in ("POST /logbook/note", "POST /evening/clouds", "PUT /settings/{name}"):
        method, path = label.split(" ")
        body = json.dumps(RIGHT[label]).encode()
        reply = world.asker.ask(Asked(method, path.replace("{name}", "level"), body), world.leader)
        assert reply.status == 200, reply.text
    assert undo(world) == "planned around clouds"
    book = world.asker.ask(Asked("GET", "/answer/logbook/export.json"), world.leader)
    RIGHT["POST /logbook/import"]["export"] = json.loads(book.body)


def undo(world: World) -> str:
    """The last step of the evening that is under way; '' where its course was lost."""
    reply = world.asker.ask(Asked("GET", f"/answer/evening?day={DAY}&at={quote(AT)}"), world.leader)
    return str(json.loads(reply.body)["undo"])


def looked_at(world: World, asked: Asked) -> None:
    """Somebody who looks asks: nothing is changed by it."""
    world.lead(world.leader)
    before = world.state()
    world.send(asked, world.looker)
    after = world.state()
    if after != before:
        parts = [key for key in before if before[key] != after[key]]
        world.note(f"changed {parts}", asked, world.looker)
    for seat in world.desk.seats._seats.values():
        if seat.asks and seat.token != world.looker.cookie:
            world.note("somebody else now asks for the lead", asked, world.looker)


def refused(world: World, asked: Asked) -> None:
    """A stranger asks: nothing is told, nothing is changed."""
    before = world.state()
    secret = (*SECRETS, world.desk.sharing.code)
    reply = world.send(asked, world.stranger, secret)
    if world.state() != before:
        world.note("changed something", asked, world.stranger)
    if "set-cookie" in reply.headers:
        world.note("was given a cookie", asked, world.stranger)
    if reply.status == 303 and not reply.headers["location"].startswith("/enter?to=/"):
        world.note(f"was sent to {reply.headers['location']}", asked, world.stranger)
    path = asked.target.split("?")[0]
    entering = path.startswith(("/enter", "/static"))
    if reply.status < 300 and not entering:
        world.note(f"was answered: {reply.text[:80]}", asked, world.stranger)


# -- what the schema lets draw ----------------------------------------------------------------


def drawn(schema: dict[str, Any], fits: bool) -> list[Any]:
    """For each operation, requests that fit its schema, or that just don't."""
    import schemathesis
    from hypothesis.errors import InvalidArgument
    from schemathesis import GenerationMode

    found = []
    mode = GenerationMode.POSITIVE if fits else GenerationMode.NEGATIVE
    for result in schemathesis.openapi.from_dict(schema).get_all_operations():
        operation = result.ok()
        takes = any(True for _ in operation.iter_parameters()) or operation.body
        only_path = all(p.location == "path" for p in operation.iter_parameters())
        numbers = "{number}" in operation.path
        if not fits and (not takes or (only_path and not operation.body and not numbers)):
            continue  # nothing is wrong where nothing, or any text, is right
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            try:
                found.append(operation.as_strategy(generation_mode=mode))
            except InvalidArgument as error:
                raise AssertionError(f"{operation.label} can't be drawn: {error}") from None
    return found


def asked_of(case: Any, chance: Any, revision: int) -> Asked:
    """A drawn case as a request, some of its words replaced by likely ones."""
    query = {str(k): v for k, v in (case.query or {}).items()}
    body = None if type(case.body).__name__ == "NotSet" else case.body
    target = case.formatted_path
    for name, words in LIKELY.items():
        if name in query and chance.random() < (0.95 if name in ("first", "day") else 0.6):
            query[name] = chance.choice(words)
        if "{" + name + "}" in case.path and chance.random() < 0.5:
            target = case.path.replace("{" + name + "}", quote(chance.choice(words), safe=""))
        if isinstance(body, dict) and name in body and chance.random() < 0.8:
            body = {**body, name: chance.choice(words)}
    if isinstance(body, dict) and "revision" in body and chance.random() < 0.7:
        body = {**body, "revision": revision}
    label = case.operation.label
    if isinstance(body, dict) and "text" in body and "kit" in label and chance.random() < 0.7:
        body = {**body, "text": changed_text(chance)}
    if query:
        target += "?" + urlencode(query, doseq=True, errors="surrogatepass")
    if label == "POST /enter" and isinstance(body, dict):
        whole = urlencode(body, doseq=True, errors="surrogatepass").encode()
        return Asked("POST", target, whole, "application/x-www-form-urlencoded", label=label)
    whole = b"" if body is None else body if isinstance(body, bytes) else json.dumps(body).encode()
    return Asked(case.method.upper(), target, whole, pieces=1 + chance.randrange(3), label=label)


def changed_text(chance: Any) -> str:
    """A kit's text with a line taken out, twice, or with another value."""
    lines = demo_text("courtyard").splitlines()
    at = chance.randrange(len(lines))
    way = chance.randrange(4)
    if way == 0:
        del lines[at]
    elif way == 1:
        lines.insert(at, lines[at])
    elif way == 2 and "=" in lines[at]:
        value = chance.choice(['"../../etc/passwd"', "nan", "-1", json.dumps(MARK), "1e300", "[]"])
        lines[at] = lines[at].split("=")[0] + "= " + value
    return "\n".join(lines)


def for_each_drawn(
    world: World, fits: bool, start: int, examples: int, use: Callable[[Asked], None]
) -> None:
    """Draw and use some requests for every operation."""
    for strategy in drawn(world.schema, fits):

        @seed(start)
        @settings(max_examples=examples, database=None, deadline=None, phases=[Phase.generate],
                  suppress_health_check=list(HealthCheck))  # fmt: skip
        @given(strategy, st.randoms(use_true_random=False))
        def go(case: Any, chance: Any) -> None:
            use(asked_of(case, chance, world.desk.revision))

        go()


def rounds() -> Iterator[int]:
    """Seeds: one, or in a long run others until the time is over."""
    end = time.monotonic() + (LONG_S / 2 if LONG else 0.0)
    for number in itertools.count(1):
        yield number
        if time.monotonic() >= end:
            return


@pytest.mark.parametrize("fits", [True, False], ids=["right", "wrong"])
def test_drawn_from_the_schema(world: World, fits: bool) -> None:
    begin(world)

    def use(asked: Asked) -> None:
        looked_at(world, asked)
        refused(world, asked)
        world.send(asked, world.leader)

    for start in rounds():
        for_each_drawn(world, fits, start, 20 if LONG else EXAMPLES, use)
    world.told()
