"""Which tables does the logbook have, and how is an older one brought up to date?

Each step is run once and raises `PRAGMA user_version` by one, all that are new in one transaction.
Steps are never changed after they have been shipped; a new need is a new step. No statement holds a
semicolon within itself.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable

from axletree.kit.errors import AxletreeError

APPLICATION_ID = 0x41784C74  # 'AxLt' in the file's header

STEPS: tuple[str, ...] = (
    """
    CREATE TABLE evening (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        date TEXT NOT NULL,
        site TEXT NOT NULL,
        latitude_deg REAL NOT NULL CHECK (latitude_deg BETWEEN -90 AND 90),
        longitude_deg REAL NOT NULL CHECK (longitude_deg BETWEEN -180 AND 360),
        kit_name TEXT NOT NULL,
        kit_toml TEXT NOT NULL,
        run_sheet TEXT,
        begun_at TEXT NOT NULL
    ) STRICT;
    CREATE INDEX evening_by_date ON evening(date);
    CREATE TABLE stop (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        evening_id INTEGER NOT NULL REFERENCES evening(id) ON DELETE CASCADE,
        at TEXT NOT NULL,
        object TEXT NOT NULL,
        catalogue_id TEXT NOT NULL,
        state TEXT NOT NULL CHECK (state IN ('done', 'skipped')),
        visitors INTEGER CHECK (visitors >= 0),
        note TEXT NOT NULL DEFAULT ''
    ) STRICT;
    CREATE INDEX stop_by_evening ON stop(evening_id);
    CREATE INDEX stop_by_object ON stop(catalogue_id);
    CREATE TABLE note (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        evening_id INTEGER NOT NULL REFERENCES evening(id) ON DELETE CASCADE,
        at TEXT NOT NULL,
        text TEXT NOT NULL
    ) STRICT;
    CREATE INDEX note_by_evening ON note(evening_id);
    CREATE TABLE conditions (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        evening_id INTEGER NOT NULL REFERENCES evening(id) ON DELETE CASCADE,
        at TEXT NOT NULL,
        seeing_arcsec REAL CHECK (seeing_arcsec > 0),
        sky_brightness_mag_arcsec2 REAL,
        naked_eye_limit_mag REAL,
        words TEXT NOT NULL DEFAULT ''
    ) STRICT;
    CREATE INDEX conditions_by_evening ON conditions(evening_id);
    CREATE TABLE axis_measure (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        evening_id INTEGER NOT NULL REFERENCES evening(id) ON DELETE CASCADE,
        at TEXT NOT NULL,
        method TEXT NOT NULL,
        high_arcmin REAL NOT NULL,
        east_arcmin REAL NOT NULL,
        high_variance_arcmin2 REAL NOT NULL CHECK (high_variance_arcmin2 >= 0),
        east_variance_arcmin2 REAL NOT NULL CHECK (east_variance_arcmin2 >= 0),
        covariance_arcmin2 REAL NOT NULL,
        details TEXT NOT NULL DEFAULT '{}'
    ) STRICT;
    CREATE INDEX axis_measure_by_evening ON axis_measure(evening_id);
    CREATE TABLE bolt_turn (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        evening_id INTEGER NOT NULL REFERENCES evening(id) ON DELETE CASCADE,
        at TEXT NOT NULL,
        altitude_turns REAL NOT NULL,
        azimuth_turns REAL NOT NULL,
        note TEXT NOT NULL DEFAULT ''
    ) STRICT;
    CREATE INDEX bolt_turn_by_evening ON bolt_turn(evening_id);
    """,
    """
    CREATE TABLE found (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        evening_id INTEGER NOT NULL REFERENCES evening(id) ON DELETE CASCADE,
        at TEXT NOT NULL,
        object TEXT NOT NULL,
        catalogue_id TEXT NOT NULL,
        ways TEXT NOT NULL,
        found INTEGER NOT NULL CHECK (found IN (0, 1)),
        minutes REAL CHECK (minutes > 0 AND minutes <= 600),
        chance REAL CHECK (chance BETWEEN 0 AND 1)
    ) STRICT;
    CREATE INDEX found_by_evening ON found(evening_id);
    """,
    """
    CREATE TABLE rig_work (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE,
        evening_id INTEGER NOT NULL REFERENCES evening(id) ON DELETE CASCADE,
        at TEXT NOT NULL,
        work TEXT NOT NULL CHECK (work IN ('set_up', 'take_down')),
        minutes REAL NOT NULL CHECK (minutes > 0 AND minutes <= 600)
    ) STRICT;
    CREATE INDEX rig_work_by_evening ON rig_work(evening_id);
    """,
)

# Every table but the first belongs to an evening; columns without the keys.
TABLES: dict[str, tuple[str, ...]] = {
    "evening": (
        "uid", "date", "site", "latitude_deg", "longitude_deg", "kit_name", "kit_toml",
        "run_sheet", "begun_at",
    ),
    "stop": ("uid", "at", "object", "catalogue_id", "state", "visitors", "note"),
    "note": ("uid", "at", "text"),
    "conditions": (
        "uid", "at", "seeing_arcsec", "sky_brightness_mag_arcsec2", "naked_eye_limit_mag",
        "words",
    ),
    "axis_measure": (
        "uid", "at", "method", "high_arcmin", "east_arcmin", "high_variance_arcmin2",
        "east_variance_arcmin2", "covariance_arcmin2", "details",
    ),
    "bolt_turn": ("uid", "at", "altitude_turns", "azimuth_turns", "note"),
    "found": ("uid", "at", "object", "catalogue_id", "ways", "found", "minutes", "chance"),
    "rig_work": ("uid", "at", "work", "minutes"),
}  # fmt: skip


def is_whole(connection: sqlite3.Connection) -> bool:
    """True where every table has its columns, as they have in a logbook that nothing damaged."""
    for table, columns in TABLES.items():
        rows = connection.execute(f"PRAGMA table_info({table})").fetchall()
        if not {*columns, "id"} <= {row[1] for row in rows}:
            return False
    return True


def bring_up_to_date(connection: sqlite3.Connection, keep: Callable[[int], object]) -> int | None:
    """Run the steps that this logbook has not seen, all of them or none; the form that it had, None
    where it is new or had this one. `keep` is called with that form before anything is changed.
    Refuses one from a newer Axletree.
    """
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    application = int(connection.execute("PRAGMA application_id").fetchone()[0])
    tables = int(connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0])
    if tables and application != APPLICATION_ID:
        raise AxletreeError("this SQLite file is not a logbook of Axletree; name another file")
    if version > len(STEPS):
        raise AxletreeError(
            f"this logbook was written by a newer Axletree (version {version}); update Axletree"
        )
    if version == len(STEPS):
        return None
    # Nobody else writes from here on, and a kill before the end leaves the logbook as it was.
    connection.execute("BEGIN IMMEDIATE")
    try:
        version = int(connection.execute("PRAGMA user_version").fetchone()[0])
        earlier = version if 0 < version < len(STEPS) else None
        if earlier is not None:
            keep(earlier)
        for step in STEPS[version:]:
            for statement in filter(str.strip, step.split(";")):
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {len(STEPS)}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    return earlier
