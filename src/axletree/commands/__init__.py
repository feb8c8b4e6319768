"""One module a command; they ask the floors below and compute nothing themselves.

Each module holds:
  __doc__      what the person reads under --help
  EXAMPLE      one line that works
  options      (parser) -> None: its arguments
  answer       (options) -> Answer: text for people, data for --json, a drawing for --draw
Shared: common (Answer, the kit, the moment, the observer).
"""
