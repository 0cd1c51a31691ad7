"""Where the tables' numbers come from: CoolProp's pure-fluid saturation, and our tracer for blends."""

from __future__ import annotations

import math
from collections.abc import Callable

import CoolProp
from CoolProp.CoolProp import AbstractState, PropsSI, PyGuessesStructure

from tests.reference.blend_pairs import set_estimated_pairs
from tests.reference.catalogue import COLD_BLENDS, Row, read_csv
from tests.reference.fit_tables import Point, Source
from tests.reference.trace_blend import Curve

ZERO_C = 273.15
PURE_LOW_C, PURE_LOW_PA, BLEND_LOW_C = -100.0, 1000.0, -60.0
IIR_H, IIR_S = 200e3, 1e3  # of the bubble state at 0 °C
PURE_GAP_K, BLEND_GAP_K = 0.2, 1.0  # how far below the critical temperature the tables stop
WIDER_GAP_K = {"R-1234yf": 0.5, "R-470A": 3.0}  # the polynomials do not reach as far for these
BLEND_TOP = 0.97  # of the critical pressure
GUESS_OFF_K = 0.05
SIDES = ("bubble", "dew")

Critical = dict[str, float]
Range = tuple[float, float]


class Exact:
    """Exact saturation points of one refrigerant, with the range over which they are tabulated, IIR reference."""

    def __init__(self, row: Row) -> None:
        self.row = row
        set_estimated_pairs()
        self.molar_mass, self.mole_fractions = _moles(row)
        make = self._pure if row.pure else self._blend
        self.from_triple_point = False
        self.curves: dict[str, Curve] = {}  # of a blend
        self.critical: Critical
        self.ranges: dict[str, Range]
        self.critical, self.ranges, raw = make()
        zero = raw["bubble"](ZERO_C)
        self.h_shift, self.s_shift = IIR_H - zero.h_j_kg, IIR_S - zero.s_j_kg_k
        self.sources = {side: self._shifted(raw[side]) for side in SIDES}

    def _shifted(self, source: Source) -> Source:
        def point(t_k: float) -> Point:
            p = source(t_k)
            return Point(p.p_pa, p.rho_kg_m3, p.h_j_kg + self.h_shift, p.s_j_kg_k + self.s_shift)

        return point

    def _pure(self) -> tuple[Critical, dict[str, Range], dict[str, Source]]:
        state = AbstractState("HEOS", self.row.components[0])
        critical = {"temperature_k": state.T_critical(), "pressure_pa": state.p_critical()}
        triple = math.ceil((state.Ttriple() - ZERO_C) * 100) / 100
        self.from_triple_point = triple > PURE_LOW_C
        low = max(PURE_LOW_C, triple)
        state.update(CoolProp.QT_INPUTS, 0.0, low + ZERO_C)
        if state.p() < PURE_LOW_PA:
            state.update(CoolProp.PQ_INPUTS, PURE_LOW_PA, 0.0)
            low, self.from_triple_point = float(math.ceil(state.T() - ZERO_C)), False
        gap_k = WIDER_GAP_K.get(self.row.designation, PURE_GAP_K)
        high = math.floor((critical["temperature_k"] - ZERO_C - gap_k) * 100) / 100
        limits = (low, min(high, self.row.high_c or high))

        def side(quality: float) -> Source:
            def point(t_k: float) -> Point:
                state.update(CoolProp.QT_INPUTS, quality, t_k)
                return Point(state.p(), state.rhomass(), state.hmass(), state.smass())

            return point

        return critical, dict.fromkeys(SIDES, limits), {"bubble": side(0.0), "dew": side(1.0)}

    def _blend(self) -> tuple[Critical, dict[str, Range], dict[str, Source]]:
        found = next(r for r in read_csv("critical_points.csv") if r["designation"] == self.row.designation)
        critical = {k: float(found[k]) for k in ("temperature_k", "pressure_pa")}
        low = COLD_BLENDS.get(self.row.designation, BLEND_LOW_C)
        start = -40.0 if self.row.designation in COLD_BLENDS else 0.0
        gap_k = WIDER_GAP_K.get(self.row.designation, BLEND_GAP_K)
        top_c = min(critical["temperature_k"] - ZERO_C - gap_k, self.row.high_c or math.inf)
        top_pa = BLEND_TOP * critical["pressure_pa"]
        ranges: dict[str, Range] = {}
        sources: dict[str, Source] = {}
        for side in SIDES:
            curve = Curve(self.row.components, self.mole_fractions, dew=side == "dew")
            curve.start(start + ZERO_C)
            curve.march(low + ZERO_C, math.inf)
            curve.march(top_c + ZERO_C, top_pa)
            ranges[side] = (low, math.floor(_highest(curve, top_pa) * 100) / 100)
            sources[side] = _point_of(curve)
            self.curves[side] = curve
        return critical, ranges, sources


def _highest(curve: Curve, top_pa: float) -> float:
    """Temperature [°C] at which the curve ends: at top_pa, or at its last traced state below that."""
    above = max(curve.states)
    if curve.states[above].p_pa <= top_pa:
        return above - ZERO_C
    below = max(t for t in curve.states if curve.states[t].p_pa <= top_pa)
    while above - below > 1e-3:
        middle = (above + below) / 2
        above, below = (middle, below) if curve.at(middle).p_pa > top_pa else (above, middle)
    return below - ZERO_C


def _point_of(curve: Curve) -> Callable[[float], Point]:
    def point(t_k: float) -> Point:
        s = curve.at(t_k)
        return Point(s.p_pa, s.rho_kg_m3, s.h_j_kg, s.s_j_kg_k)

    return point


def guess_for(curve: Curve, t_k: float) -> PyGuessesStructure:
    """A guess for CoolProp's own flash, from the curve a little below a temperature: its answer is its own."""
    near = curve.at(t_k - GUESS_OFF_K)
    guess = PyGuessesStructure()
    bulk, incipient = (math.exp(v) for v in near.x[:2])
    guess.T, guess.p = near.t_k, near.p_pa
    guess.rhomolar_liq, guess.rhomolar_vap = (incipient, bulk) if curve.dew else (bulk, incipient)
    guess.x, guess.y = ([*near.y], [*curve.z]) if curve.dew else ([*curve.z], [*near.y])
    return guess


def _moles(row: Row) -> tuple[float, list[float]]:
    """Molar mass [kg/mol] and mole fractions."""
    moles = [w / PropsSI("M", c) for w, c in zip(row.mass_fractions, row.components, strict=True)]
    return 1 / sum(moles), [n / sum(moles) for n in moles]
