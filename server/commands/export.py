"""`dewbook export`: the record as JSON Lines, one entry a line, in the order of its numbers."""

from __future__ import annotations

import argparse
import json
import sys
from typing import Any

REFUSED = 2


def register(subparsers: Any) -> None:
    """Adds the command."""
    parser = subparsers.add_parser("export", help="write a firm's entries to standard output, one JSON object a line")
    parser.add_argument("--company", help="name of the firm; may be left out where there is one only")
    parser.set_defaults(run=_export)


def _export(options: argparse.Namespace) -> int:
    """Each line: number, when it was received, and the entry's text byte for byte (as a string, so that it hashes)."""
    from server.db import Database
    from server.office import companies, exported
    from server.settings import Settings

    database = Database(Settings.from_environment().database_url)
    found = [one for one in companies(database) if options.company in (None, one[1])]
    if len(found) != 1:
        names = ", ".join(name for _, name in companies(database)) or "none yet"
        sys.stderr.write(f"Name one firm with --company. The firms here: {names}.\n")
        return REFUSED
    for number, received_at, text in exported(database, found[0][0]):
        line = {"number": number, "received_at": received_at, "text": text}
        sys.stdout.write(json.dumps(line, ensure_ascii=False, sort_keys=True) + "\n")
    return 0
