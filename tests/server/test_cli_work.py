"""`dewbook work`: the same answers on the command line."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from calc.working import run, workings
from server.cli import main

ROOT = Path(__file__).resolve().parents[2]
SUPERHEAT = ["refrigerant=R-410A", "suction_pressure=118 psig ± 1", "suction_temperature=52 F", "target=10 F"]
FIELDS = dict(pair.split("=", 1) for pair in SUPERHEAT)


def test_json_is_the_answer(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["work", "superheat", *SUPERHEAT, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(json.dumps(run("superheat", FIELDS).to_json()))


def test_people_see_figure_verdict_reason_and_source(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["work", "superheat", *SUPERHEAT]) == 0
    said = capsys.readouterr().out
    answer = run("superheat", FIELDS)
    assert answer.results["superheat"].shown in said
    assert str(answer.verdict.text if answer.verdict else "?") in said
    for note in answer.notes:
        assert str(note) in said
    assert "Source: " in said


@pytest.mark.parametrize(("system", "unit"), [("us", "°F"), ("metric", "K")])
@pytest.mark.parametrize("as_field", [True, False])
def test_units(capsys: pytest.CaptureFixture[str], system: str, unit: str, as_field: bool) -> None:
    asked = [f"units={system}"] if as_field else ["--units", system]
    assert main(["work", "superheat", *SUPERHEAT, *asked, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["results"]["superheat"]["shown"].endswith(f" {unit}")


def test_the_listing_has_every_working(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["work", "--list", "--json"]) == 0
    listing = json.loads(capsys.readouterr().out)
    assert listing == {"workings": json.loads(json.dumps([w.to_json() for w in workings().values()]))}
    assert main(["work", "--list"]) == 0
    said = capsys.readouterr().out
    assert all(name in said for name in workings())


def test_a_working_without_fields_is_described(capsys: pytest.CaptureFixture[str]) -> None:
    for name, working in workings().items():
        assert main(["work", name]) == 0
        said = capsys.readouterr().out
        assert all(field.name in said and field.help in said for field in working.fields)
        assert all(caution in said for caution in working.cautions)


@pytest.mark.parametrize(
    ("arguments", "field", "code"),
    [
        (["nothing", "elevation=1600 m"], "", "unknown_working"),
        (["site_pressure", "elevation=1,600 m"], "elevation", "ambiguous_number"),
        (["site_pressure", "elevation"], "", "unknown_field"),
        (["site_pressure", "=1600 m"], "", "unknown_field"),
        (["site_pressure", "elevation=1 m", "elevation=2 m"], "elevation", "contradiction"),
        (["saturation", "refrigerant=R-410A", "pressure=118 psi"], "pressure", "gauge_or_absolute"),
        (["saturation", "refrigerant=R-744", "temperature=40 C"], "temperature", "outside_table"),
    ],
)
def test_bad_input_is_exit_status_2(
    capsys: pytest.CaptureFixture[str], arguments: list[str], field: str, code: str
) -> None:
    assert main(["work", *arguments, "--json"]) == 2
    answer = json.loads(capsys.readouterr().out)
    assert answer["ok"] is False
    assert (answer["errors"][0]["field"], answer["errors"][0]["code"]) == (field, code)
    assert main(["work", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert answer["errors"][0]["hint"] in captured.err


def test_as_a_process() -> None:
    """The exit status and the ± sign survive a plain C locale."""
    command = [sys.executable, "-m", "server", "work", "superheat", *SUPERHEAT]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, env={"LC_ALL": "C", "PATH": ""}, check=False)
    assert done.returncode == 0, done.stderr
    assert "±" in done.stdout.decode("utf-8")
    refused = subprocess.run([*command[:4], "superheat"], cwd=ROOT, capture_output=True, check=False)
    assert refused.returncode == 0
    refused = subprocess.run([*command, "--json", "metering=x"], cwd=ROOT, capture_output=True, check=False)
    assert refused.returncode == 2
    assert json.loads(refused.stdout)["errors"][0]["code"] == "unknown_choice"


def test_options_may_stand_anywhere(capsys: pytest.CaptureFixture[str]) -> None:
    first = ["work", "--json", "superheat", *SUPERHEAT]
    between = ["work", "superheat", *SUPERHEAT[:2], "--json", "--units", "us", *SUPERHEAT[2:]]
    for arguments in (first, between):
        assert main(arguments) == 0
        assert json.loads(capsys.readouterr().out)["ok"] is True
    with pytest.raises(SystemExit) as ended:
        main([*first, "--unit-system", "us"])
    assert ended.value.code == 2


def test_an_unknown_command_is_exit_status_2() -> None:
    with pytest.raises(SystemExit) as ended:
        main(["nothing"])
    assert ended.value.code == 2
