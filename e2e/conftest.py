"""The two ends of a visit: an office started as offices start it, and phones whose profile outlives their browser."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.conftest import Office as BareOffice
from tests.browser.conftest import line, new_phone, playwright

__all__ = ["Office", "line", "new_phone", "office", "playwright"]  # fixtures of the browser tests serve here too
ROOT = Path(__file__).resolve().parent.parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(ROOT / "e2e"):
            item.add_marker("browser")


class Office(BareOffice):
    """The server as offices start it, by the commands of `dewbook`, on a database of its own."""

    def command(self) -> tuple[list[str], dict[str, str]]:
        environment = {**os.environ, "DEWBOOK_DATABASE": str(self.folder / "office.sqlite")}
        return [sys.executable, "-m", "server", "serve", "--port", str(self.port)], environment

    def dewbook(self, *words: str) -> str:
        """Run a command on this office's database; gives what it prints."""
        _, environment = self.command()
        command = [sys.executable, "-m", "server", *words]
        done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        return done.stdout


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """An office with the demo record, running."""
    made = Office(tmp_path)
    made.dewbook("demo")
    made.start()
    yield made
    made.kill()
