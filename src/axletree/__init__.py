"""Axletree: from the car to the last visitor of the night, for a telescope on an equatorial mount.

Floors, ground up: kit -> sky -> ground, mount, pole -> evening -> logbook, tell
-> app, commands, cli. A module imports from its own floor's package or from below.
"""

__version__ = "0.1.0"
