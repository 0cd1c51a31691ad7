"""Settings of the server: each has a default and comes from one environment variable."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path


class BadSetting(Exception):
    """A setting that cannot be used; says which variable and what is allowed."""


def _setting(default: str, env: str, help: str) -> str:
    made: str = field(default=default, metadata={"env": env, "help": help})
    return made


@dataclass(frozen=True)
class Settings:
    """All settings, as texts; the properties give them as they are used."""

    data: str = _setting("var", "DEWBOOK_DATA", "folder of everything the server keeps on its own disk")
    database: str = _setting(
        "",
        "DEWBOOK_DATABASE",
        "where the record is kept: the path of a SQLite file, or a database URL (sqlite:///… or "
        "postgresql+psycopg://…); dewbook.sqlite in the data folder where none is given",
    )
    session_days: str = _setting("90", "DEWBOOK_SESSION_DAYS", "days after its last use that a sign-in stays good")
    known_builds: str = _setting(
        "",
        "DEWBOOK_KNOWN_BUILDS",
        "builds, separated by commas, from which entries newer than this server are taken in and kept unread",
    )
    trust_proxy: str = _setting(
        "no", "DEWBOOK_TRUST_PROXY", "yes where a proxy in front sets X-Forwarded-Proto and X-Forwarded-Host"
    )

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] | None = None) -> Settings:
        """Settings from the environment; a variable that is absent or empty leaves the default."""
        found = os.environ if environment is None else environment
        given = {f.name: value for f in fields(cls) if (value := found.get(f.metadata["env"], "").strip())}
        return cls(**given)

    @property
    def data_folder(self) -> Path:
        return Path(self.data).absolute()

    @property
    def database_url(self) -> str:
        if "://" in self.database:
            return self.database
        path = Path(self.database).absolute() if self.database else self.data_folder / "dewbook.sqlite"
        return f"sqlite:///{path}"

    @property
    def session_seconds(self) -> int:
        try:
            days = int(self.session_days)
        except ValueError:
            days = 0
        if not 1 <= days <= 3650:
            raise BadSetting(f"DEWBOOK_SESSION_DAYS is {self.session_days!r}; give whole days from 1 to 3650")
        return days * 86_400

    @property
    def builds(self) -> frozenset[str]:
        return frozenset(part.strip() for part in self.known_builds.split(",") if part.strip())

    @property
    def behind_proxy(self) -> bool:
        if self.trust_proxy not in {"yes", "no"}:
            raise BadSetting(f"DEWBOOK_TRUST_PROXY is {self.trust_proxy!r}; give yes or no")
        return self.trust_proxy == "yes"

    def check(self) -> None:
        """Raise BadSetting where one cannot be used, before anything is opened."""
        _ = (self.session_seconds, self.behind_proxy)
