"""Build the refrigerant tables of calc/data/refrigerants from CoolProp, or verify the committed ones.

    python tests/reference/build_tables.py [--only R-410A,R-134a] [--check 400] [--jobs 2] [--verify]

A table that misses its error limits, does not rise everywhere, or disagrees with CoolProp's pseudo-pure model of the
same blend stops the build. --verify rebuilds and compares the functions, never the bytes, with what is committed.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import math
import multiprocessing
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))  # run as a script, the checkout is what is built

import CoolProp  # noqa: E402
import numpy as np  # noqa: E402
from CoolProp.CoolProp import get_BibTeXKey, get_global_param_string  # noqa: E402

from calc.saturation_curve import SaturationCurve  # noqa: E402
from tests.reference import blend_pairs, catalogue, fit_tables, gwp  # noqa: E402
from tests.reference.exact_points import SIDES, ZERO_C, Exact, Source  # noqa: E402
from tests.reference.trace_blend import TraceFailed  # noqa: E402

OUT = ROOT / "calc" / "data" / "refrigerants"
VERSION = "8.0.0"
PSEUDO_PURE = {"R-404A": "R404A", "R-407C": "R407C", "R-410A": "R410A", "R-507A": "R507A"}
PSEUDO_PURE_LIMIT_K = 0.02
NORMAL_MOVED_LIMIT_K = 0.05
VERIFY_POINTS = 400


def build(row: catalogue.Row, check: int) -> dict[str, Any]:
    """Everything that is stored of one refrigerant; raises fit_tables.TableTooCoarse."""
    exact = Exact(row)
    fitted = [fit_tables.fit_curve(exact.critical, *exact.ranges[s], exact.sources[s]) for s in SIDES]
    table: dict[str, Any] = {"critical": exact.critical}
    table |= {side: f.bounds for side, f in zip(SIDES, fitted, strict=True)}
    table["numbers"] = fit_tables.encode(*fitted)
    curves = fit_tables.open_curves(table)
    rng = np.random.default_rng(20_240_229)
    errors = {side: fit_tables.errors_of(curves[side], exact.sources[side], check, rng) for side in SIDES}
    _dew_below_bubble(row, curves)
    if row.designation in PSEUDO_PURE:
        errors["pseudo_pure_k"] = _against_pseudo_pure(row.designation, exact.sources)
    del table["critical"]
    return {
        "schema": 1,
        "designation": row.designation,
        "name": row.name or _composition_in_words(row),
        "aliases": row.aliases,
        "composition": [
            {"designation": catalogue.number_of(c), "mass_fraction": w}
            for c, w in zip(row.components, row.mass_fractions, strict=True)
        ],
        "molar_mass_kg_mol": float(f"{exact.molar_mass:.8g}"),
        "critical": exact.critical,
        "normal_boiling_c": {s: round(v, 2) for s, v in _normal(curves).items()},
        "safety_group": row.safety_group,
        "gwp": gwp.of(row),
        "grade": row.grade,
        "estimated": row.grade == "C",
        "model_error_k": row.model_error_k,
        "remark": row.remark,
        "sources": _sources(row),
        "saturation": {
            "made_with": f"CoolProp {VERSION}",
            "reason_below": "below_triple_point" if exact.from_triple_point else "below_table",
            "reason_above": "above_table" if row.high_c else "near_critical",
            **table,
            "errors": errors,
        },
    }


def _composition_in_words(row: catalogue.Row) -> str:
    numbers = "/".join(catalogue.number_of(c).removeprefix("R-") for c in row.components)
    return f"R-{numbers} ({'/'.join(f'{100 * w:g}' for w in row.mass_fractions)} % by mass)"


def _normal(curves: dict[str, SaturationCurve]) -> dict[str, float]:
    return {s: c.temperature_c(101_325.0) for s, c in curves.items() if c.p_low_pa < 101_325.0}


def _dew_below_bubble(row: catalogue.Row, curves: dict[str, SaturationCurve]) -> None:
    bubble, dew = curves["bubble"], curves["dew"]
    for t in np.linspace(max(bubble.t_low_c, dew.t_low_c), min(bubble.t_high_c, dew.t_high_c), 500):
        # at an azeotrope the two touch, and their own errors may cross
        if dew.pressure_pa(float(t)) > bubble.pressure_pa(float(t)) * (1 + 1e-5):
            raise fit_tables.TableTooCoarse(f"{row.designation}: the dew pressure exceeds the bubble's at {t:.2f} °C")


def _against_pseudo_pure(designation: str, sources: dict[str, Source]) -> float:
    """Largest difference [K] from CoolProp's pseudo-pure model, made from the same data by other means."""
    state, worst = CoolProp.AbstractState("HEOS", PSEUDO_PURE[designation]), 0.0
    for t_c in range(-60, 66, 5):
        for quality, side in enumerate(SIDES):
            state.update(CoolProp.PQ_INPUTS, sources[side](t_c + ZERO_C).p_pa, float(quality))
            worst = max(worst, abs(state.T() - ZERO_C - t_c))
    if worst > PSEUDO_PURE_LIMIT_K:
        raise fit_tables.TableTooCoarse(f"{designation}: {worst:.4f} K from the pseudo-pure model")
    return float(f"{worst:.2g}")


def _sources(row: catalogue.Row) -> dict[str, Any]:
    found: dict[str, Any] = {
        "equations_of_state": {catalogue.number_of(c): get_BibTeXKey(c, "EOS") for c in row.components},
        "safety_group": catalogue.SAFETY_SOURCE,
    }
    if row.pure:
        return found | {"critical": f"CoolProp {VERSION}, the equation of state"}
    return found | {
        "composition": catalogue.COMPOSITION_SOURCE,
        "critical": f"CoolProp {VERSION}, stable critical point of the mixture model",
        "pairs": blend_pairs.describe_pairs(row.components),
    }


def _file(designation: str) -> str:
    return designation.replace("(", "-").replace(")", "") + ".json"


def _dump(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, indent=1) + "\n"


def write(built: list[dict[str, Any]]) -> None:
    """The files of the refrigerants built, and the index of all that is there."""
    OUT.mkdir(parents=True, exist_ok=True)
    for one in built:
        (OUT / _file(one["designation"])).write_text(_dump(one), encoding="utf-8")
    entries = []
    for row in catalogue.rows():
        path = OUT / _file(row.designation)
        if path.exists():
            digest = hashlib.sha256(path.read_bytes()).hexdigest()
            entries.append(
                {"designation": row.designation, "aliases": row.aliases, "file": path.name, "sha256": digest}
            )
    whole = hashlib.sha256("".join(e["sha256"] for e in entries).encode()).hexdigest()
    index = {"schema": 1, "build": whole[:16], "made_with": f"CoolProp {VERSION}", "refrigerants": entries}
    (OUT / "index.json").write_text(_dump(index), encoding="utf-8")


def differences(built: dict[str, Any], kept: dict[str, Any]) -> list[str]:
    """Where the functions of a fresh table leave the committed one's by more than the limits."""
    name = built["designation"]
    facts = [k for k in kept if k not in ("saturation", "normal_boiling_c") and kept[k] != built.get(k)]
    wrong = [f"{name}: {k} is {kept[k]!r}, built anew it is {built.get(k)!r}" for k in facts]
    new, old = (fit_tables.open_curves(one["saturation"] | {"critical": one["critical"]}) for one in (built, kept))
    for side in SIDES:
        a, b = new[side], old[side]
        if abs(a.t_low_c - b.t_low_c) > 0.02 or abs(a.t_high_c - b.t_high_c) > 0.02:
            wrong.append(f"{name} {side}: range moved")
            continue
        for t in map(float, np.linspace(max(a.t_low_c, b.t_low_c), min(a.t_high_c, b.t_high_c), VERIFY_POINTS)):
            p = a.pressure_pa(t)
            apart = {
                "temperature": abs(b.temperature_c(min(max(p, b.p_low_pa), b.p_high_pa)) - t) / 0.002,
                "pressure": abs(a.temperature_c(min(max(b.pressure_pa(t), a.p_low_pa), a.p_high_pa)) - t) / 0.002,
                "density": abs(math.log(a.density_kg_m3(t) / b.density_kg_m3(t))) / 3e-4,
                "enthalpy": abs(a.enthalpy_j_kg(t) - b.enthalpy_j_kg(t)) / 100.0,
                "entropy": abs(a.entropy_j_kg_k(t) - b.entropy_j_kg_k(t)) / 0.4,
            }
            wrong += [f"{name} {side}: {k} differs at {t:.2f} °C by {v:.1f} limits" for k, v in apart.items() if v > 1]
    return wrong


def _kept(designation: str) -> dict[str, Any] | None:
    path = OUT / _file(designation)
    return json.loads(path.read_text(encoding="utf-8")) if path.exists() else None


def _job(task: tuple[catalogue.Row, int]) -> dict[str, Any] | str:
    """The table, or why there is none: the other refrigerants are still tried, so that one run shows every fault."""
    row, check = task
    try:
        return build(row, check)
    except (fit_tables.TableTooCoarse, TraceFailed, ValueError) as error:
        return f"{row.designation}: {error}"


def _moved(built: dict[str, Any]) -> list[str]:
    kept = _kept(built["designation"])
    was, now = (kept or {}).get("normal_boiling_c", {}), built["normal_boiling_c"]
    return [
        f"{built['designation']}: normal {s} point moved from {was[s]} to {now[s]} °C"
        for s in was
        if abs(was[s] - now[s]) > NORMAL_MOVED_LIMIT_K
    ]


def main() -> int:
    """Build or verify; 1 where something is wrong."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--only", default="", help="designations, separated by commas")
    options.add_argument("--check", type=int, default=400, help="random points per curve for the self-check")
    options.add_argument("--jobs", type=int, default=2)
    options.add_argument("--verify", action="store_true", help="write nothing; compare with what is committed")
    options.add_argument("--moved", action="store_true", help="accept normal boiling points that moved")
    given = options.parse_args()
    if get_global_param_string("version") != VERSION:
        raise SystemExit(f"CoolProp {VERSION} is needed, not {get_global_param_string('version')}")
    wanted = {d for d in given.only.split(",") if d}
    rows = [r for r in catalogue.rows() if not wanted or r.designation in wanted]
    if unknown := wanted - {r.designation for r in rows}:
        raise SystemExit(f"not in refrigerants.csv: {', '.join(sorted(unknown))}")
    built: list[dict[str, Any]] = []
    wrong: list[str] = []
    with multiprocessing.get_context("spawn").Pool(given.jobs) as pool:
        for one in pool.imap(_job, [(r, given.check) for r in rows]):
            if isinstance(one, str):
                wrong.append(one)
                continue
            built.append(one)
            kept = _kept(one["designation"]) if given.verify else None
            if given.verify:
                wrong += differences(one, kept) if kept else [f"{one['designation']}: not committed"]
            elif not given.moved:
                wrong += _moved(one)
            worst = one["saturation"]["errors"]
            print(f"{one['designation']:12}", *(list(worst[side].values()) for side in SIDES), flush=True)
    if not wrong and not given.verify:
        write(built)
    print("\n".join(wrong) if wrong else f"{len(built)} tables {'agree' if given.verify else 'written'}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
