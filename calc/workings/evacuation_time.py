"""How long an evacuation takes at least, and what the hoses leave of the pump."""

from __future__ import annotations

from math import inf

from calc.declaration import Field, Result, Working
from calc.evacuation import Hose, Rig, at_pump_pa, effective_speed, limit_pressure_pa, time_s
from calc.messages import N_, message
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.uncertainty import Origin, from_limit
from calc.values import Values
from calc.workings.hose_conductance import FORMULA_SHARE

_SOURCE = "dp/dt = −S·(p − p_ult)/V + Q/V, 1/S = 1/S_pump + 1/C: vacuum technology, common practice, no source"
_HOSES = "hoses: Knudsen's formula (from memory); a valve core as a tube of 2 mm by 20 mm: common practice, no source"
_CORES = {"": 0, "no": 0, "yes": 1, "0": 0, "1": 1, "2": 2}


def _rig(values: Values) -> Rig:
    bores, lengths = values.column("hoses", "bore"), values.column("hoses", "length")
    hoses = tuple(
        Hose(
            bore, length, _CORES[values.word(f"hoses.{row}.cores_in")],
            values.word(f"hoses.{row}.group") or f"row {row}",
        )
        for row, (bore, length) in enumerate(zip(bores, lengths, strict=True))
    )  # fmt: skip
    share = 1.0 + values.doubt("formula") * from_limit(FORMULA_SHARE)
    return Rig(values["pump_speed"], max(values.number("ultimate_pressure", 0.0), 0.0), hoses, share)


def evacuation_time(values: Values) -> dict[str, float]:
    """Least time to the target [s], speed left there [m³/s], pressure the pump ends at and that at the pump [Pa].

    Source
        pump behind its hoses, stepped in pressure; see calc.evacuation
    """
    rig, leak = _rig(values), values.number("leak", 0.0)
    start, target = values.number("start_pressure", values.site_pa), values["target_pressure"]
    if target >= start:
        raise values.refuse(
            "target_pressure", "contradiction",
            message(N_("The target {target} is not below the start {start}"), target=values.texts["target_pressure"],
                    start=values.frame.amount(start, "pressure", "vacuum")),
            message(N_("Give a target below what the system is at")),
        )  # fmt: skip
    limit = limit_pressure_pa(rig, leak)
    if limit == inf:
        raise values.refuse(
            "leak", "impossible", message(N_("The leak is more than the pump draws through these hoses")),
            message(N_("Find the leak first, or check the unit of the leak and of the pump's speed")),
        )  # fmt: skip
    if limit >= target:
        raise values.refuse(
            "target_pressure", "impossible",
            message(N_("The target is never reached: pump, hoses and leak end at {limit}"),
                    limit=values.frame.amount(limit, "pressure", "vacuum")),
            message(N_("Find the leak, use a deeper pump, shorter and wider hoses, or a higher target")),
        )  # fmt: skip
    return {
        "time": time_s(rig, values["volume"], start, target, leak),
        "effective_speed": effective_speed(rig, target),
        "limit_pressure": limit,
        "at_pump": at_pump_pa(rig, target),
        "first_speed": effective_speed(rig, start),
    }


def explain(telling: Telling) -> None:
    """What the hoses leave of the pump, what a gauge at the pump would show, and why it is a lower bound."""
    values = telling.values
    start = values.number("start_pressure", values.site_pa)
    telling.because(
        N_("time = ∫ V·dp / (S·(p − p_ult) − Q), from start to target; S changes on the way and is stepped"),
        N_("{volume} from {start} to {target}: {time}"), _SOURCE,
        volume=telling.reading("volume"), start=telling.amount(start, "pressure", "vacuum"),
        target=telling.reading("target_pressure"), time=telling.result("time"),
    )  # fmt: skip
    if values.column("hoses", "bore"):
        telling.because(
            N_("1/S = 1/S_pump + Σ 1/C of hoses that follow each other; C of hoses side by side add"),
            N_("of {pump} the hoses leave {first} at the start and {last} at the target"), _HOSES,
            pump=telling.reading("pump_speed"), first=telling.amount(telling["first_speed"], "volume_flow"),
            last=telling.result("effective_speed"),
        )  # fmt: skip
        telling.note(
            N_("At {target} in the system a gauge at the pump shows {at_pump}: put it at the far end, on a valve"),
            target=telling.reading("target_pressure"), at_pump=telling.amount(telling["at_pump"], "pressure", "vacuum"),
        )  # fmt: skip
        if values.word("gauge_at") == "pump":
            telling.note(N_("The target here is that of the system, not of the gauge at the pump"))
        if any(hose.cores for hose in _rig(values).hoses):
            telling.note(N_("A valve core is taken as a tube of 2 mm by 20 mm: take the cores out"))
        groups = [hose.group for hose in _rig(values).hoses]
        if len(groups) > 1 and len(set(groups)) == len(groups):
            telling.note(N_("Hoses are taken one behind the other; give those side by side the same group"))
    else:
        telling.note(N_("No hoses given: the pump at its full speed right at the system, which no rig has"))
    if "ultimate_pressure" not in values:
        telling.note(N_("Ultimate pressure not given: a perfect pump"))
    if "start_pressure" not in values:
        telling.note(N_("Start not given: from the air pressure of the site"))
    telling.note(N_("A lower bound: clean and dry; water, oil and refrigerant in oil take longer"))
    telling.note(N_("Reaching the level proves nothing: valve off pump and hoses and do the vacuum rise test"))


def _vacuum(name: str, label: str, help: str, *, required: bool = False) -> Field:
    return Field(
        name, label, help, quantity="pressure", low=0.01, high=125e3, required=required, reads="vacuum"
    )  # fmt: skip


WORKING = Working(
    name="evacuation_time",
    title=N_("Evacuation time"),
    purpose=N_("The least time to a vacuum, and what hoses and valve cores leave of the pump"),
    fields=(
        Field(
            "volume", N_("Volume"), N_("Inside volume of the system"), quantity="volume", low=1e-5, high=100.0,
            required=True,
        ),
        Field(
            "pump_speed", N_("Pump speed"), N_("Rated free air displacement, such as 5 cfm or 8 m3/h"),
            quantity="volume_flow", low=1e-6, high=1.0, required=True,
        ),
        _vacuum("target_pressure", N_("Target"), N_("Absolute, in the system, such as 300 micron"), required=True),
        _vacuum("start_pressure", N_("Start"), N_("Absolute; the air of the site where not given")),
        _vacuum("ultimate_pressure", N_("Ultimate"), N_("Lowest the pump reaches blanked off, with the oil it has")),
        Field(
            "hoses", N_("Hoses"),
            N_("One a line: bore; length; cores left in (no, yes or 2); group of hoses side by side"), shape="series",
            rows=(1, 12),
            columns=(
                Field("bore", N_("Bore"), N_("Inside diameter"), quantity="length", low=5e-4, high=0.2, required=True),
                Field("length", N_("Length"), N_("Of one"), quantity="length", low=5e-3, high=100.0, required=True),
                Field(
                    "cores_in", N_("Cores in"), N_("Valve cores left in at its ends"), shape="choice",
                    choices=("no", "yes", "0", "1", "2"), said=(N_("no"), N_("yes"), "0", "1", "2"),
                ),
                Field("group", N_("Group"), N_("The same for hoses side by side"), shape="text"),
            ),
        ),
        Field("leak", N_("Leak"), N_("What flows in, if known"), quantity="leak", low=0.0, high=1e3),
        Field(
            "gauge_at", N_("Gauge at"), N_("Where the vacuum gauge sits"), shape="choice", choices=("system", "pump"),
            said=(N_("the system, at the far end"), N_("the pump")),
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result("time", N_("Least time"), N_("Clean, dry and tight but for the leak given"), "time"),
        Result("effective_speed", N_("Speed at the target"), N_("What the hoses leave of the pump"), "volume_flow"),
        Result(
            "limit_pressure", N_("It ends at"), N_("Pressure where the pump draws no more than flows in"), "pressure",
            reads="vacuum",
        ),
    ),
    function=evacuation_time,
    explain=explain,
    sources=(_SOURCE, _HOSES),
    cautions=(
        N_("Never start, megger or hi-pot a hermetic or scroll compressor under vacuum"),
        N_("The vacuum gauge never under pressure or liquid: on its own valve"),
    ),
    own_doubts=(Origin("formula:hoses", {"formula": 1.0}),),
    order=85,
)  # fmt: skip
