"""/api/workings: the open door to the workings."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from calc.working import run, workings
from server.api import LONGEST_BODY, RATE_KEY, blueprint
from server.app import create_app
from server.rate import Rate
from server.settings import Settings

SUPERHEAT = {
    "refrigerant": "R-410A", "suction_pressure": "118 psig ± 1", "suction_temperature": "52 F", "target": "10 F",
}  # fmt: skip


@pytest.fixture
def app() -> Flask:
    made = Flask("workings")
    made.register_blueprint(blueprint)
    return made


@pytest.fixture
def door(app: Flask) -> Iterator[FlaskClient]:
    with app.test_client() as client:
        yield client


def told(response: TestResponse) -> Any:
    assert response.mimetype == "application/json"
    return json.loads(response.get_data(as_text=True))


def test_the_list_is_the_registry(door: FlaskClient) -> None:
    listing = told(door.get("/api/workings"))
    assert listing == {"workings": json.loads(json.dumps([w.to_json() for w in workings().values()]))}
    assert {field["name"] for field in listing["workings"][0]["fields"]} >= {"refrigerant", "pressure", "temperature"}


@pytest.mark.parametrize("name", workings())
def test_each_is_described(door: FlaskClient, name: str) -> None:
    assert told(door.get(f"/api/workings/{name}"))["name"] == name


def test_a_working_is_run(door: FlaskClient) -> None:
    response = door.post("/api/workings/superheat", json=SUPERHEAT)
    assert response.status_code == 200
    answer = told(response)
    assert answer == json.loads(json.dumps(run("superheat", SUPERHEAT).to_json()))
    assert answer["ok"] is True
    assert answer["results"]["superheat"]["unit"] == "K"
    assert answer["verdict"]["state"] == "within"


@pytest.mark.parametrize("where", ["query", "body"])
def test_units_are_asked_for_in_either_place(door: FlaskClient, where: str) -> None:
    if where == "query":
        response = door.post("/api/workings/superheat?units=metric", json=SUPERHEAT)
    else:
        response = door.post("/api/workings/superheat", json={**SUPERHEAT, "units": "metric"})
    assert told(response)["results"]["superheat"]["shown"].endswith(" K")


def test_bad_input_is_422_with_every_fault(door: FlaskClient) -> None:
    response = door.post("/api/workings/superheat", json={**SUPERHEAT, "suction_pressure": "118 psi", "target": "x"})
    assert response.status_code == 422
    answer = told(response)
    assert answer["ok"] is False
    assert [(e["field"], e["given"], e["code"]) for e in answer["errors"]] == [
        ("suction_pressure", "118 psi", "gauge_or_absolute"),
        ("target", "x", "not_a_number"),
    ]


@pytest.mark.parametrize("method", ["get", "post"])
def test_an_unknown_working_is_404(door: FlaskClient, method: str) -> None:
    response = getattr(door, method)("/api/workings/nothing", **({"json": {}} if method == "post" else {}))
    assert response.status_code == 404
    (error,) = told(response)["errors"]
    assert (error["code"], error["given"]) == ("unknown_working", "nothing")
    assert "superheat" in error["hint"]


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", None])
def test_what_is_not_called_json_is_415(door: FlaskClient, kind: str | None) -> None:
    response = door.post("/api/workings/site_pressure", data='{"elevation": "1600 m"}', content_type=kind)
    assert response.status_code == 415
    (error,) = told(response)["errors"]
    assert error["code"] == "not_json"
    assert '{"elevation": "1600 m"}' in error["hint"]


@pytest.mark.parametrize("body", ["", "{", "[]", '"text"', "null", "[" * 100_000, "\udcff"])
def test_a_body_that_is_no_object_is_422(door: FlaskClient, body: str) -> None:
    data = body.encode("utf-8", "surrogateescape")
    response = door.post("/api/workings/site_pressure", data=data, content_type="application/json")
    assert response.status_code == 422
    assert told(response)["errors"][0]["code"] == "not_json"


def test_a_long_body_is_413_and_the_longest_is_not(door: FlaskClient) -> None:
    small = json.dumps({"elevation": "1600 m"})
    for spare, status in ((0, 200), (1, 413)):
        data = small + " " * (LONGEST_BODY - len(small) + spare)
        assert (
            door.post("/api/workings/site_pressure", data=data, content_type="application/json").status_code == status
        )


def test_values_that_are_no_text_are_refused_kindly(door: FlaskClient) -> None:
    for value in (1600, 16.5, True, ["1600 m"], {"value": 1600}):
        response = door.post("/api/workings/site_pressure", json={"elevation": value})
        assert response.status_code == 422
        assert told(response)["errors"][0]["field"] == "elevation"


def test_too_many_requests_wait(app: Flask, door: FlaskClient) -> None:
    now = [0.0]
    app.extensions[RATE_KEY] = Rate(1.0, 3, lambda: now[0])
    assert [door.get("/api/workings").status_code for _ in range(4)] == [200, 200, 200, 429]
    late = door.get("/api/workings")
    assert int(late.headers["Retry-After"]) >= 1
    assert told(late)["errors"][0]["code"] == "too_many"
    now[0] = 1.0
    assert door.get("/api/workings").status_code == 200


def test_callers_do_not_slow_each_other() -> None:
    now = [0.0]
    rate = Rate(2.0, 1, lambda: now[0])
    assert (rate.take("a"), rate.take("b")) == (0.0, 0.0)
    assert rate.take("a") == pytest.approx(0.5)
    now[0] = 0.5
    assert rate.take("a") == 0.0


def test_nothing_is_kept_and_no_cookie_read(door: FlaskClient) -> None:
    door.set_cookie("session", "anything")
    response = door.post("/api/workings/superheat", json=SUPERHEAT)
    assert response.status_code == 200
    assert "Set-Cookie" not in response.headers
    assert "Cookie" not in response.headers.get("Vary", "")
    assert response.headers["Cache-Control"] == "no-store"


def test_the_application_has_the_door(tmp_path: Path) -> None:
    """A program elsewhere posts without cookie, origin or device and is answered."""
    with create_app(Settings(data=str(tmp_path))).test_client() as client:
        response = client.post("/api/workings/superheat", json=SUPERHEAT, headers={"Sec-Fetch-Site": "cross-site"})
        assert response.status_code == 200
        assert "Set-Cookie" not in response.headers
        assert client.get("/api/workings").status_code == 200
        assert client.get("/api/workings/nothing").status_code == 404
        assert client.put("/api/workings/superheat", json={}).status_code == 405
