"""Bubble and dew curves of a blend from HEOS single-phase (T, rho) calls only.

CoolProp's own blend flash fails near the critical point and is sometimes silently wrong, so it is used once, for a
first guess at one temperature, and everything after that is this Newton solution of the equilibrium conditions:
equal fugacity of every component, equal pressure, mole fractions of the incipient phase adding up to one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import CoolProp
import numpy as np
from CoolProp.CoolProp import AbstractState

ZERO_C = 273.15


class TraceFailed(Exception):
    """Newton did not converge, or fell onto the trivial solution (both phases alike)."""


@dataclass
class State:
    """One point of a curve; bulk is the phase with the blend's own composition."""

    t_k: float
    x: np.ndarray  # ln rho_bulk, ln rho_incipient, ln y_i
    p_pa: float
    rho_kg_m3: float
    h_j_kg: float
    s_j_kg_k: float
    y: np.ndarray = field(repr=False)


class Curve:
    """The bubble curve (bulk liquid) or the dew curve (bulk vapour) of a blend of fixed composition."""

    def __init__(self, fluids: list[str], mole_fractions: list[float], dew: bool) -> None:
        self.z = np.array(mole_fractions)
        self.n = len(fluids)
        self.dew = dew
        names = "&".join(fluids)
        self.bulk = AbstractState("HEOS", names)
        self.bulk.set_mole_fractions(list(self.z))
        self.incipient = AbstractState("HEOS", names)
        phases = (CoolProp.iphase_gas, CoolProp.iphase_liquid)
        self.bulk.specify_phase(phases[0] if dew else phases[1])
        self.incipient.set_mole_fractions(list(self.z))
        self.incipient.specify_phase(phases[1] if dew else phases[0])
        self.states: dict[float, State] = {}

    def _at(self, phase: AbstractState, rho: float, t_k: float) -> tuple[float, np.ndarray]:
        phase.update(CoolProp.DmolarT_INPUTS, rho, t_k)
        return phase.p(), np.array([math.log(max(phase.fugacity(i), 1e-300)) for i in range(self.n)])

    def _incipient(self, ln_rho: float, ln_y: np.ndarray, t_k: float) -> tuple[float, np.ndarray]:
        y = np.exp(ln_y)
        self.incipient.set_mole_fractions(list(y / y.sum()))
        return self._at(self.incipient, math.exp(ln_rho), t_k)

    def solve(self, t_k: float, guess: np.ndarray) -> State:
        """Polish a guess at one temperature; raises TraceFailed."""
        n, x, step = self.n, guess.copy(), 1e-6
        for _ in range(40):
            p_b, f_b = self._at(self.bulk, math.exp(x[0]), t_k)
            p_i, f_i = self._incipient(x[1], x[2:], t_k)
            scale = max(abs(p_b), 1.0)
            residual = np.concatenate([f_b - f_i, [(p_b - p_i) / scale, math.log(np.exp(x[2:]).sum())]])
            if not np.all(np.isfinite(residual)):
                raise TraceFailed(f"no finite residual at {t_k:.3f} K")
            jacobian = np.zeros((n + 2, n + 2))
            p, f = self._at(self.bulk, math.exp(x[0] + step), t_k)
            jacobian[:n, 0], jacobian[n, 0] = (f - f_b) / step, (p - p_b) / scale / step
            p, f = self._incipient(x[1] + step, x[2:], t_k)
            jacobian[:n, 1], jacobian[n, 1] = -(f - f_i) / step, -(p - p_i) / scale / step
            y = np.exp(x[2:])
            for k in range(n):
                moved = x[2:].copy()
                moved[k] += step
                p, f = self._incipient(x[1], moved, t_k)
                jacobian[:n, 2 + k], jacobian[n, 2 + k] = -(f - f_i) / step, -(p - p_i) / scale / step
                jacobian[n + 1, 2 + k] = y[k] / y.sum()
            try:
                change = np.linalg.solve(jacobian, -residual)
            except np.linalg.LinAlgError as error:
                raise TraceFailed(f"singular at {t_k:.3f} K") from error
            largest = float(np.abs(change).max())
            x = x + change * min(1.0, 0.3 / max(largest, 1e-12))
            if largest < 1e-9:
                return self._state(t_k, x)
        raise TraceFailed(f"no convergence at {t_k:.3f} K")

    def _state(self, t_k: float, x: np.ndarray) -> State:
        if (x[1] - x[0] if self.dew else x[0] - x[1]) < 0.02:
            raise TraceFailed(f"trivial solution at {t_k:.3f} K")
        p_pa, _ = self._at(self.bulk, math.exp(x[0]), t_k)
        if p_pa <= 0:
            raise TraceFailed(f"negative pressure at {t_k:.3f} K")
        b = self.bulk
        return State(t_k, x, p_pa, b.rhomass(), b.hmass(), b.smass(), np.exp(x[2:]))

    def start(self, t_k: float) -> State:
        """First point: CoolProp's flash gives a guess, polished here, stored and returned."""
        flash = AbstractState("HEOS", "&".join(self.bulk.fluid_names()))
        flash.set_mole_fractions(list(self.z))
        flash.update(CoolProp.QT_INPUTS, 1.0 if self.dew else 0.0, t_k)
        liquid, vapour = flash.saturated_liquid_keyed_output, flash.saturated_vapor_keyed_output
        rho_l, rho_v = liquid(CoolProp.iDmolar), vapour(CoolProp.iDmolar)
        y = flash.mole_fractions_liquid() if self.dew else flash.mole_fractions_vapor()
        bulk, incipient = (rho_v, rho_l) if self.dew else (rho_l, rho_v)
        state = self.solve(t_k, np.concatenate([np.log([bulk, incipient]), np.log(y)]))
        self.states[t_k] = state
        return state

    def march(self, until_k: float, top_pa: float) -> None:
        """Extend the stored states in 1 K steps (less near the end) up or down to a temperature or a top pressure."""
        up = until_k > min(self.states)
        ends = sorted(self.states, reverse=not up)[-4:]
        t_k, step = ends[-1], 1.0 if up else -1.0
        while (until_k - t_k) * step > 1e-9 and self.states[t_k].p_pa < top_pa:
            following = t_k + step if abs(until_k - t_k) > abs(step) else until_k
            try:
                state = self.solve(following, self._guess(following))
            except TraceFailed:
                step /= 2
                if abs(step) < 0.01:
                    raise
                continue
            self.states[following] = state
            t_k = following

    def _guess(self, t_k: float) -> np.ndarray:
        near = sorted(self.states, key=lambda t: abs(t - t_k))[:4]
        total = np.zeros(self.n + 2)
        for i, t_i in enumerate(near):
            weight = 1.0
            for j, t_j in enumerate(near):
                if i != j:
                    weight *= (t_k - t_j) / (t_i - t_j)
            total += weight * self.states[t_i].x
        return total

    def at(self, t_k: float) -> State:
        """The exact point at a temperature inside the traced range."""
        found = self.states.get(t_k)
        return found if found is not None else self.solve(t_k, self._guess(t_k))
