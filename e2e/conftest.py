"""The two ends of a visit: an office started as offices start it, and phones whose profile outlives their browser."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from tests import one_playwright
from tests.browser.conftest import Office as BareOffice
from tests.browser.conftest import Phone
from tests.browser_present import find
from tests.faults import Line

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


@pytest.fixture(scope="session")
def playwright() -> Playwright:
    assert find(), "no Chromium here: `make browser` says how to get one"
    return one_playwright.playwright()


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """An office with the demo record, running."""
    made = Office(tmp_path)
    made.dewbook("demo")
    made.start()
    yield made
    made.kill()


@pytest.fixture
def line(office: Office) -> Iterator[Line]:
    """What lies between phones and office."""
    made = Line(office.port)
    yield made
    made.close()


@pytest.fixture
def new_phone(playwright: Playwright, line: Line, tmp_path: Path) -> Iterator[Callable[[], Phone]]:
    """Makes phones, each with a profile of its own."""
    made: list[Phone] = []

    def make() -> Phone:
        made.append(Phone(playwright, tmp_path / f"phone{len(made)}", line))
        return made[-1]

    yield make
    for one in made:
        one.close()
        assert not one.complaints
