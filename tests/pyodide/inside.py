"""Runs inside Pyodide: pytest over the mounted repository; the last expression is the exit status."""

import json
import os
import sys
from pathlib import Path

sys.dont_write_bytecode = True
sys.path[:0] = ["/packages", "/repo"]
os.chdir("/repo")

import pytest  # noqa: E402 - its place is known only now

ARGUMENTS = json.loads(Path("/job/job.json").read_text("utf-8"))["arguments"]
OWN = ["-c", "/job/pytest.ini", "--rootdir=/repo", "--import-mode=importlib", "-p", "no:cacheprovider", "-q"]
NO_PROCESSES = 138  # errno of Emscripten's subprocess


class HostOnly:
    """A test that starts processes of its own is about the host, and is left to it."""

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self):
        try:
            return (yield)
        except OSError as error:
            if error.errno != NO_PROCESSES:
                raise
            pytest.skip("starts processes, which Pyodide has not")


int(pytest.main([*OWN, "-m", "not coolprop and not browser", "-W", "error", *ARGUMENTS], plugins=[HostOnly()]))
