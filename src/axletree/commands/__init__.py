"""Which commands are there? One module each; they ask the floors below and compute nothing.

Each module holds:
  __doc__      what the person reads under --help
  EXAMPLE      one line that works
  options      (parser) -> None: its arguments
  answer       (options) -> Answer: text for people, data for --json, a drawing for --draw

Rooms, in the order of the job:
  set_up    spot, level, north, balance, pole, enough, check
  target    where, point, room, find, follow
  night     evening, objects, calendar, log
  kit       kit, place
  running   serve, completion
  shared    common (Answer, the kit, the moment), own_logbook, parsers, go_on, several, help,
            terminal
"""

from __future__ import annotations

from importlib.util import find_spec

from axletree.kit.job import JOB

ROOMS = {
    "set_up": ("spot", "level", "north", "balance", "pole", "enough", "check"),
    "target": ("where", "point", "room", "find", "follow"),
    "night": ("evening", "objects", "calendar", "log"),
    "kit": ("kit", "place"),
    "running": ("serve", "completion"),
}

_WORDS: dict[str, str] = {
    "evening": "the whole run sheet for one night, from one kit file and a date",
    "kit": "write a kit file to start from, or check one",
    "place": "find a place by name, without a network",
    "where": "where an object stands, from here, at a time",
    "spot": "where to put the tripod",
    "level": "which leg to lengthen, and by how much",
    "north": "which way is true north (south), by every method that works now",
    "balance": "where the weights and the tube go; what can tip",
    "pole": "how to put the axis on the pole",
    "enough": "how good the alignment has to be for what you will do",
    "check": "how far the axis is off, from drift, circle readings or frames",
    "point": "which side, how far, and where the eyepiece goes",
    "room": "a map of how long each tube side can follow",
    "find": "how it gets into the eyepiece, and what the eye will see",
    "follow": "which knob, which way, how fast",
    "objects": "what this telescope can show from this spot",
    "calendar": "which night",
    "log": "what was seen, and what drifted",
    "serve": "the local app: the evening on a screen in the hand",
    "completion": "lets the shell finish words with the Tab key",
}
_BEFORE = ("evening", "kit", "place", "where")
_AFTER = ("objects", "calendar", "log", "serve", "completion")
_BESIDE = {"pole": ("enough",), "point": ("room",)}
COMMANDS: dict[str, str] = {
    name: _WORDS[name]
    for stage in (*_BEFORE, *JOB, *_AFTER)
    for name in (stage, *_BESIDE.get(stage, ()))
}


def module_of(name: str) -> str:
    """The dotted module of a command; of one that there is none of, a name that is not found."""
    room = next((room for room, names in ROOMS.items() if name in names), "shared")
    return f"axletree.commands.{room}.{name}"


def available() -> dict[str, str]:
    """The commands whose modules exist, in the order of the job."""
    return {name: words for name, words in COMMANDS.items() if find_spec(module_of(name))}
