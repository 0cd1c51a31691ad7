"""What is said about each refrigerant, over the whole set: names, composition, constants, warming potentials, files."""

from __future__ import annotations

import hashlib
import importlib
import json
import re
import sys
import zipfile
from collections import Counter
from importlib.resources import files
from pathlib import Path

import pytest

from calc import saturation
from calc.refrigerants import UnknownRefrigerant, designations, get, near, plain, tables_id

FOLDER = files("calc") / "data" / "refrigerants"
BASES = {"EU_2024_573", "AR4", "AR5", "AR6"}
ALL = designations()


def test_the_set_is_whole() -> None:
    assert len(ALL) == len(set(ALL)) == 62
    assert Counter(get(name).pure for name in ALL) == {True: 19, False: 43}
    index = json.loads((FOLDER / "index.json").read_text("utf-8"))
    present = {f.name for f in FOLDER.iterdir()}
    assert present == {row["file"] for row in index["refrigerants"]} | {"index.json"}


def test_the_index_names_exactly_these_files() -> None:
    index = json.loads((FOLDER / "index.json").read_text("utf-8"))
    for row in index["refrigerants"]:
        assert hashlib.sha256((FOLDER / row["file"]).read_bytes()).hexdigest() == row["sha256"], row["file"]
    whole = hashlib.sha256("".join(r["sha256"] for r in index["refrigerants"]).encode()).hexdigest()
    assert tables_id() == index["build"] == whole[:16]


@pytest.mark.parametrize("name", ALL)
def test_each_refrigerant_is_described(name: str) -> None:
    fluid = get(name)
    assert fluid.designation == name
    assert re.fullmatch(r"R-\d{2,4}(?:yf|z[ed]\([EZ]\)|[a-z]|[A-Z])?", name)
    assert fluid.name
    assert sum(c.mass_fraction for c in fluid.composition) == pytest.approx(1, abs=1e-9)
    assert len({c.designation for c in fluid.composition}) == len(fluid.composition)
    assert 0.015 < fluid.molar_mass < 0.2
    assert re.fullmatch(r"A1|A2L|A2|A3|B1|B2L", fluid.safety_group)
    assert set(fluid.gwp) <= BASES
    assert all(g.value >= 0 and g.source for g in fluid.gwp.values())
    assert fluid.gwp, "no basis at all"
    assert fluid.estimated == (fluid.grade == "C")
    assert all(0.1 <= fluid.model_k[side] <= 4 for side in ("bubble", "dew"))
    assert fluid.sources["equations_of_state"].keys() == {c.designation for c in fluid.composition}
    for curve in (fluid.bubble, fluid.dew):
        assert curve.t_low_c < -20 < curve.t_high_c < fluid.critical_temperature_c
        assert 0 < curve.p_low_pa < curve.p_high_pa < fluid.critical_pressure_pa
    for said, temperature, curve in (
        (fluid.normal_bubble_c, saturation.bubble_temperature_c, fluid.bubble),
        (fluid.normal_dew_c, saturation.dew_temperature_c, fluid.dew),
    ):
        if curve.p_low_pa > 101_325:  # R-744 has no liquid there; the bubble curve of R-470A starts above it
            assert said is None
            assert name in {"R-744", "R-470A"}
        else:
            assert said == pytest.approx(temperature(fluid, 101_325), abs=0.006)


@pytest.mark.parametrize("name", [n for n in ALL if not get(n).pure])
def test_blends_rest_on_pairs_that_are_named(name: str) -> None:
    fluid = get(name)
    count = len(fluid.composition)
    pairs = fluid.sources["pairs"]
    assert len(pairs) == count * (count - 1) // 2
    estimated = [p for p in pairs if p["basis"] == "estimated"]
    assert all(p["source"] for p in pairs)
    if name == "R-458A":  # its estimated pair weighs 0.1 % and moves nothing by 0.01 K, so it is not marked
        assert len(estimated) == 1
        assert not fluid.estimated
    else:
        assert bool(estimated) == fluid.estimated


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("shape", ["{}", "{} ", "R{}", "r-{}", "R {}", "r{}"])
def test_spellings(name: str, shape: str) -> None:
    number = name.removeprefix("R-")
    assert get(shape.format(number)) is get(name)
    assert get(shape.format(number).lower()) is get(name)


@pytest.mark.parametrize(
    ("alias", "name"),
    [
        ("propane", "R-290"), ("Propane", "R-290"), ("CO2", "R-744"), ("CO₂", "R-744"), ("carbon dioxide", "R-744"),
        ("ammonia", "R-717"), ("NH3", "R-717"), ("isobutane", "R-600a"), ("propylene", "R-1270"), ("propene", "R-1270"),
        ("HFC-134a", "R-134a"), ("HFO-1234yf", "R-1234yf"), ("R1234ze", "R-1234ze(E)"), ("R1234zeE", "R-1234ze(E)"),
        ("HCFC-22", "R-22"), ("R-410a", "R-410A"), ("r‑410a", "R-410A"),
    ],
)  # fmt: skip
def test_other_names(alias: str, name: str) -> None:
    assert get(alias).designation == name


def test_no_two_refrigerants_share_a_name() -> None:
    names = Counter(p for d in ALL for p in {plain(a) for a in (d, *get(d).aliases)})
    assert not [n for n, count in names.items() if count > 1]


@pytest.mark.parametrize(
    ("given", "expected"),
    [("R-41OA", "R-410A"), ("R-410", "R-410A"), ("407", "R-407C"), ("R-454", "R-454B"), ("amonia", "R-717")],
)
def test_an_unknown_name_brings_what_looks_like_it(given: str, expected: str) -> None:
    with pytest.raises(UnknownRefrigerant, match="not a refrigerant Dewbook holds tables for") as unknown:
        get(given)
    assert unknown.value.given == given
    assert expected in unknown.value.near
    if given == "R-41OA":  # the letter O for a zero: no other guess comes before it
        assert unknown.value.near[0] == expected
    assert expected in str(unknown.value)


@pytest.mark.parametrize("given", ["", "   ", "R-", "../index", "zzzz", "R-9999", "‽"])
def test_nonsense_is_unknown_too(given: str) -> None:
    with pytest.raises(UnknownRefrigerant):
        get(given)
    assert len(near(given)) <= 4


# Molar mass g/mol, normal bubble and dew point °C: computed with CoolProp 8.0.0 by other means (predefined mixtures).
# M, Tb and Tc of R-32 also in J. Phys. Chem. Ref. Data 26 (1997).
CONSTANTS = [
    ("R-22", 86.468, -40.81, -40.81), ("R-32", 52.024, -51.65, -51.65), ("R-134a", 102.032, -26.07, -26.07),
    ("R-290", 44.0956, -42.11, -42.11), ("R-600a", 58.1222, -11.75, -11.75), ("R-717", 17.0305, -33.32, -33.32),
    ("R-1234yf", 114.0416, -29.46, -29.46), ("R-123", 152.931, 27.82, 27.82), ("R-410A", 72.585, -51.44, -51.36),
    ("R-407C", 86.204, -43.63, -36.63), ("R-404A", 97.604, -46.22, -45.47), ("R-448A", 86.283, -46.18, -39.67),
    ("R-449A", 87.213, -45.88, -39.83), ("R-454B", 62.614, -50.74, -49.53), ("R-513A", 108.426, -29.45, -29.34),
]  # fmt: skip


@pytest.mark.parametrize(("name", "molar_mass", "bubble_c", "dew_c"), CONSTANTS)
def test_constants(name: str, molar_mass: float, bubble_c: float, dew_c: float) -> None:
    fluid = get(name)
    assert fluid.molar_mass * 1e3 == pytest.approx(molar_mass, abs=0.0006)
    assert fluid.normal_bubble_c == pytest.approx(bubble_c, abs=0.011)
    assert fluid.normal_dew_c == pytest.approx(dew_c, abs=0.011)


def test_critical_points() -> None:
    # J. Phys. Chem. Ref. Data 26 (1997), 351.255 K and 5782 kPa; the others from CoolProp 8.0.0
    assert get("R-32").critical_temperature_c + 273.15 == pytest.approx(351.255, abs=0.001)
    assert get("R-32").critical_pressure_pa == pytest.approx(5.782e6, abs=1e3)
    for name, celsius, pascal in (("R-744", 30.978, 7.3773e6), ("R-717", 132.41, 11.3634e6), ("R-22", 96.145, 4.990e6)):
        assert get(name).critical_temperature_c == pytest.approx(celsius, abs=0.006)
        assert get(name).critical_pressure_pa == pytest.approx(pascal, abs=500)
    for name, celsius in (("R-427A", 85.3), ("R-434A", 75.6), ("R-437A", 95.3)):
        # ANSI/AHRI 700-2006 Addendum 1 (2009), Table 1B; the mixture models lie up to 1.6 K away (R-434A)
        assert get(name).critical_temperature_c == pytest.approx(celsius, abs=1.7)


# Regulation (EU) 2024/573, Annexes I, II and VI; blends by mass as its Annex VI says, half a unit of the last digit.
EU = [
    ("R-32", 675), ("R-125", 3500), ("R-134a", 1430), ("R-152a", 124), ("R-1234yf", 0.501), ("R-1234ze(E)", 1.37),
    ("R-290", 0.02), ("R-600a", 0), ("R-717", 0), ("R-410A", 2087.5), ("R-407C", 1773.85), ("R-404A", 3921.6),
    ("R-448A", 1386.0), ("R-449A", 1396.2), ("R-454B", 465.2), ("R-513A", 629.5),
]  # fmt: skip


@pytest.mark.parametrize(("name", "value"), EU)
def test_warming_potential_in_the_european_regulation(name: str, value: float) -> None:
    assert get(name).gwp["EU_2024_573"].value == pytest.approx(value, abs=0.051)


@pytest.mark.parametrize(
    ("name", "basis", "value"),
    [
        ("R-454B", "AR4", 466.3), ("R-454B", "AR5", 466.8), ("R-513A", "AR4", 631.4), ("R-513A", "AR5", 572.6),
        ("R-410A", "AR5", 1923.5), ("R-448A", "AR4", 1387.1), ("R-449A", "AR5", 1281.9), ("R-404A", "AR5", 3942.8),
        ("R-22", "AR4", 1810), ("R-152a", "AR6", 164),
    ],
)  # fmt: skip
def test_warming_potential_on_other_bases(name: str, basis: str, value: float) -> None:
    # IPCC AR4 and AR5 by mass; with AR4 the unsaturated ones count 4 and 7, with AR5 they count 1
    assert get(name).gwp[basis].value == pytest.approx(value, abs=0.051)


def test_substances_under_the_ozone_rules_have_no_figure_in_the_f_gas_regulation() -> None:
    for name in ("R-22", "R-12", "R-502", "R-409A"):
        assert "EU_2024_573" not in get(name).gwp
        assert get(name).gwp["AR4"].value > 1000


def test_works_from_inside_a_zip(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    archive = tmp_path / "calc.zip"
    package = Path(str(files("calc")))
    with zipfile.ZipFile(archive, "w") as target:
        for path in package.rglob("*"):
            if path.suffix in {".py", ".json", ".csv"}:
                target.write(path, path.relative_to(package.parent))
    expected = saturation.dew_temperature_c(get("R-454B"), 8e5)
    for module in [m for m in sys.modules if m.split(".")[0] == "calc"]:
        monkeypatch.delitem(sys.modules, module)
    monkeypatch.syspath_prepend(str(archive))
    zipped = importlib.import_module("calc.refrigerants")
    assert str(archive) in str(zipped.__file__)
    again = importlib.import_module("calc.saturation").dew_temperature_c(zipped.get("454b"), 8e5)
    assert again == expected
    assert len(zipped.designations()) == 62
