"""The office of the browser tests: `python office.py PORT FOLDER`, a real server process on a database of its own.

gunicorn with threads, as `dewbook serve` runs it; the tests end it by SIGKILL and start it again on the same data.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gunicorn.app.base import BaseApplication

from server import accounts
from server.app import create_app
from server.db import Database
from server.settings import Settings

PASSWORD = "harrow-vale-demo"
PEOPLE = (("wren", "Wren Adair", "technician"), ("moss", "Moss Okoro", "technician"), ("ida", "Ida Fell", "supervisor"))


def furnish(settings: Settings) -> None:
    """An empty database gets the invented firm of the demo and its people."""
    database = Database(settings.database_url)
    database.upgrade()
    with database.write() as connection:
        if accounts.company_named(connection, "Tern & Alder Cooling") is None:
            company = accounts.add_company(connection, "Tern & Alder Cooling")
            for sign_in, name, role in PEOPLE:
                accounts.add_person(connection, company, sign_in, name, role, PASSWORD)
    database.close()


class Office(BaseApplication):  # type: ignore[misc]
    """One worker process with threads."""

    def __init__(self, port: int, settings: Settings) -> None:
        self.port, self.settings = port, settings
        super().__init__()

    def load_config(self) -> None:
        options: dict[str, Any] = {
            "bind": f"127.0.0.1:{self.port}",
            "worker_class": "gthread",
            "threads": 8,
            "loglevel": "warning",
            "keepalive": 5,
        }
        for name, value in options.items():
            self.cfg.set(name, value)

    def load(self) -> Any:
        return create_app(self.settings)


if __name__ == "__main__":
    where = Settings(database=str(Path(sys.argv[2]) / "office.sqlite"))
    furnish(where)
    Office(int(sys.argv[1]), where).run()
