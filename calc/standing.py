"""From the compensated change of a standing pressure test to its verdict."""

from __future__ import annotations

from calc import conformity
from calc.conformity import Verdict
from calc.messages import N_, Amount, message
from calc.telling import Telling, percent

TIGHT, LEAKING, TOO_CLOSE = "tight", "leaking", "too_close"
SETTLING_S = 900.0
USUAL_SHARE = 0.01
LONGEST_S = 72 * 3600.0


def state(loss: float, band: float, allowed: float | None, usual: float) -> str:
    """tight, leaking or too_close.

    Parameters
        loss, band: compensated loss and its expanded uncertainty, any one unit
        allowed: loss that is allowed, None where nothing was said
        usual: the loss that tight must surely be under where nothing was said
    Source
        rule of this project with the guard band of JCGM 106:2012, 8.3; 1 % as usual: common practice, no source
    Example
        >>> state(0.1, 0.9, None, 1.6), state(1.9, 0.9, None, 1.6), state(1.0, 1.2, None, 1.6)
        ('tight', 'leaking', 'too_close')
    """
    if loss - band > (allowed or 0.0):
        return LEAKING
    if loss + band <= (usual if allowed is None else allowed) and loss >= -band:
        return TIGHT
    return TOO_CLOSE


def hold_s(loss: float, band: float, held_s: float) -> float | None:
    """How long to hold in all until a loss that goes on at the same rate stands clear; None where that does not help.

    Parameters
        loss, band: as in state
        held_s: time held so far [s]
    Source
        loss ∝ time while the pressure hardly changes: common practice, no source
    Example
        >>> hold_s(1.0, 1.2, 3600.0), hold_s(-0.5, 1.2, 3600.0)
        (4320.0, None)
    """
    if loss <= 0:
        return None
    needed = held_s * band / loss
    return needed if held_s < needed <= LONGEST_S else None


def judged(telling: Telling, yearly: str) -> Verdict:
    """The verdict with its sentence; yearly: what the smallest visible leak is worth, "" if not known."""
    values = telling.values
    loss, band = -telling["compensated_change"], telling.expanded("compensated_change")
    given = "allowed_change" in values
    allowed = values["allowed_change"] if given else None
    usual = USUAL_SHARE * values["start_pressure"]
    said = state(loss, band, allowed, usual)
    limit = usual if allowed is None else allowed
    chance = conformity.inside(loss, band, high=limit)
    longer = hold_s(loss, band, values["duration"]) if allowed is None else None  # an allowance is for this time
    if said == TIGHT:
        text = (
            N_("Tight within {visible}, that is {yearly}: change {figure}, temperature taken off")
            if yearly
            else N_("Tight within {visible}: change {figure}, temperature taken off")
        )
    elif said == LEAKING:
        text = N_("Leaking: change {figure}, temperature taken off, against {allowed} allowed")
    elif loss < -band:
        text = N_(
            "Too close to call: a gain of {figure} is no tightness; is the supply still open, does a valve pass, "
            "or is the clamp not at the temperature of the gas?"
        )
    elif longer:
        text = N_("Too close to call: change {figure}; hold {hours} h in all, then read again")
    else:
        text = N_("Too close to call: change {figure}; what would settle it most is a closer {weakest}")
    places: dict[str, str | Amount] = {
        "visible": telling.rounded(band, "pressure_difference") if band else "0",
        "yearly": yearly,
        "figure": telling.result("compensated_change"),
        "allowed": telling.amount(allowed or 0.0, "pressure_difference"),
        "hours": f"{(longer or 0.0) / 3600.0:.1f}",
        "weakest": telling.weakest(telling.contributions["compensated_change"]),
        "chance": percent(chance),
    }
    if allowed is not None:
        places["low"] = telling.amount(-allowed, "pressure_difference")
        places["high"] = telling.amount(0.0, "pressure_difference")
    return Verdict(said, message(text, **places), chance, "compensated_change", -limit, 0.0)
