"""The two ends of a visit: an office started as offices start it, and phones whose profile outlives their browser."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from tests import one_playwright
from tests.browser.conftest import Phone
from tests.browser_present import find
from tests.faults import Line

ROOT = Path(__file__).resolve().parent.parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(ROOT / "e2e"):
            item.add_marker("browser")


class Office:
    """The server as its own process, on one port and one database for its whole life."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self._environment = {**os.environ, "DEWBOOK_DATABASE": str(folder / "office.sqlite")}
        self._process: subprocess.Popen[bytes] | None = None

    def dewbook(self, *words: str) -> str:
        done = subprocess.run(
            [sys.executable, "-m", "server", *words],
            cwd=ROOT, env=self._environment, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout

    def start(self) -> None:
        with (self.folder / "office.log").open("ab") as log:
            self._process = subprocess.Popen(
                [sys.executable, "-m", "server", "serve", "--port", str(self.port)],
                cwd=ROOT, env=self._environment, stdout=log, stderr=log, start_new_session=True,
            )  # fmt: skip
        for _ in range(300):
            with contextlib.suppress(OSError), urllib.request.urlopen(f"{self.url}/healthz", timeout=2) as answer:
                if answer.status == 200:
                    return
            assert self._process.poll() is None, (self.folder / "office.log").read_text()
            time.sleep(0.1)
        raise AssertionError((self.folder / "office.log").read_text())

    def kill(self) -> None:
        """SIGKILL to the server and its workers: off means off."""
        if self._process is not None:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()
            self._process = None


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
