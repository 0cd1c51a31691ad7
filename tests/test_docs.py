"""What the documents say is true: commands, files, links and settings that they name exist."""

from __future__ import annotations

import dataclasses
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
DOCUMENTS = ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "tests/README.md"]
TARGETS = set(re.findall(r"^([a-z][a-z-]*):", (ROOT / "Makefile").read_text("utf-8"), re.M))


def text(name: str) -> str:
    return (ROOT / name).read_text("utf-8")


def help_of(*words: str) -> str:
    command = [sys.executable, "-m", "server", *words, "--help"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.parametrize("name", DOCUMENTS)
def test_make_targets_named_exist(name: str) -> None:
    named = set(re.findall(r"\bmake ([a-z][a-z-]+)\b", " ".join(re.findall(r"`[^`]*`|^make .*", text(name), re.M))))
    assert named <= TARGETS


@pytest.mark.parametrize("name", DOCUMENTS)
def test_links_and_pictures_lead_somewhere(name: str) -> None:
    base = (ROOT / name).parent
    links = [link for link in re.findall(r"\]\(([^)]+)\)", text(name)) if "://" not in link and link[0] != "#"]
    assert not [link for link in links if not (base / link.split("#")[0]).exists()]


def test_files_named_in_developers_exist() -> None:
    named = set(re.findall(r"`((?:calc|webui|server|tests|e2e)/[\w./-]+?)/?`", text("DEVELOPERS.md")))
    assert len(named) > 10
    made = "webui/static/gen"  # made by `make assets`
    assert not sorted(path for path in named if not path.startswith(made) and not (ROOT / path).exists())


def test_commands_named_exist() -> None:
    named = set()
    for name in DOCUMENTS:
        named |= set(re.findall(r"dewbook ([a-z]+(?: (?:upgrade|rebuild|add))?)\b", text(name)))
    assert named >= {"work", "serve", "demo", "db upgrade", "person add"}
    for command in sorted(named):
        assert "usage" in help_of(*command.split())


def test_developers_names_every_setting() -> None:
    from server.settings import Settings

    settings = {f.metadata["env"] for f in dataclasses.fields(Settings)}
    assert settings <= set(re.findall(r"DEWBOOK_[A-Z_]+", text("DEVELOPERS.md")))


def test_readme_names_every_working() -> None:
    from calc.working import workings

    assert set(re.findall(r"^\| `(\w+)` \|", text("README.md"), re.M)) == set(workings())


def test_readme_opens_with_the_job_and_two_commands() -> None:
    blocks = text("README.md").split("\n\n")
    assert blocks[0] == "# Dewbook"
    assert "technician" in blocks[1]
    assert len(blocks[1].split()) > 80
    commands = re.search(r"```\n(make run.*\nmake test.*\n)```", text("README.md"))
    assert commands
