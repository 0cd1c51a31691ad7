"""The host in memory for every test of the desk."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent))

from desk_host import Host


@pytest.fixture
def host() -> Host:
    return Host()
