"""`dewbook db`: upkeep of the database."""

from __future__ import annotations

import argparse
import sys
from typing import Any


def register(subparsers: Any) -> None:
    """Adds the command."""
    parser = subparsers.add_parser("db", help="bring the database up to date, or make its folded rows again")
    acts = parser.add_subparsers(title="acts", metavar="ACT", required=True)
    upgrade = acts.add_parser("upgrade", help="bring the tables to this version of the program")
    upgrade.set_defaults(run=_upgrade)
    rebuild = acts.add_parser("rebuild", help="fold every subject again from its entries")
    rebuild.set_defaults(run=_rebuild)
    restored = acts.add_parser("restored", help="after a restore from a copy: have every phone offer all it has again")
    restored.set_defaults(run=_restored)


def _upgrade(options: argparse.Namespace) -> int:
    from server.db import Database
    from server.office import rebuild
    from server.settings import Settings

    database = Database(Settings.from_environment().database_url)
    database.upgrade()
    made = rebuild(database)
    sys.stdout.write(f"The tables are up to date; {made} subjects were folded again.\n")
    return 0


def _rebuild(options: argparse.Namespace) -> int:
    from server.db import Database
    from server.office import rebuild
    from server.settings import Settings

    made = rebuild(Database(Settings.from_environment().database_url), everything=True)
    sys.stdout.write(f"{made} subjects were folded again.\n")
    return 0


def _restored(options: argparse.Namespace) -> int:
    from server.db import Database
    from server.office import begin_epoch
    from server.settings import Settings

    database = Database(Settings.from_environment().database_url)
    database.upgrade()
    begin_epoch(database)
    sys.stdout.write("Phones will offer everything they have again.\n")
    return 0
