"""Global warming potentials: of the substances by hand with their sources, of blends by mass."""

from __future__ import annotations

from typing import Any

from tests.reference.catalogue import Row, number_of, read_csv

BASES = ("EU_2024_573", "AR4", "AR5", "AR6")
BY_MASS = "mass-weighted over the nominal composition; "


def substances() -> dict[tuple[str, str], tuple[float, str]]:
    """Value and source by designation and basis."""
    return {(r["designation"], r["basis"]): (float(r["gwp"]), r["source"]) for r in read_csv("gwp.csv")}


def of(row: Row) -> dict[str, Any]:
    """Value and source by basis; a basis for which a component has no figure is left out."""
    known, found = substances(), {}
    for basis in BASES:
        parts = [known.get((number_of(c), basis)) for c in row.components]
        if None in parts:
            continue
        total = sum(w * part[0] for w, part in zip(row.mass_fractions, parts, strict=True) if part)
        sources = "; ".join(dict.fromkeys(part[1] for part in parts if part))
        found[basis] = {
            "value": float(f"{total:.6g}"),
            "source": sources if row.pure else BY_MASS + sources,
        }
    return found
