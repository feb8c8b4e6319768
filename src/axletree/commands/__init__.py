"""Which commands are there? One module each; they ask the floors below and compute nothing.

Each module holds:
  __doc__      what the person reads under --help
  EXAMPLE      one line that works
  options      (parser) -> None: its arguments
  answer       (options) -> Answer: text for people, data for --json, a drawing for --draw

Rooms, in the order of the job:
  set_up    spot, level, north, balance, pole, enough, check
  target    where, point, room, follow
  night     evening, objects, calendar, log
  kit       kit, place
  running   serve, completion
  shared    common (Answer, the kit, the moment), own_logbook, go_on, several, progress, help
"""

ROOMS = {
    "set_up": ("spot", "level", "north", "balance", "pole", "enough", "check"),
    "target": ("where", "point", "room", "follow"),
    "night": ("evening", "objects", "calendar", "log"),
    "kit": ("kit", "place"),
    "running": ("serve", "completion"),
}


def module_of(name: str) -> str:
    """The dotted module of a command; of one that there is none of, a name that is not found."""
    room = next((room for room, names in ROOMS.items() if name in names), "shared")
    return f"axletree.commands.{room}.{name}"
