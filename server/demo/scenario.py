"""Who, where, what and when of the demo, as plain data. All of it is invented."""

from __future__ import annotations

from dataclasses import dataclass

FIRM = "Tern & Alder Cooling (demo)"
PASSWORD = "harrow-vale-demo"


@dataclass(frozen=True)
class Member:
    """Somebody of the firm; sign_in is what they type to sign in."""

    key: str
    sign_in: str
    name: str
    role: str


@dataclass(frozen=True)
class Unit:
    """A machine at a site, with what its plate says."""

    key: str
    tag: str
    kind: str
    refrigerant: str
    metering: str
    plate_charge: str = ""
    target_superheat: str = ""
    target_subcooling: str = ""
    receiver: str = ""


@dataclass(frozen=True)
class Site:
    """A site with its units."""

    name: str
    elevation: str
    access: str
    units: tuple[Unit, ...]


@dataclass(frozen=True)
class Taken:
    """One reading: the state the circuit is in, `after` minutes into the visit, and the air around it.

    dew_c and superheat_k describe the suction, bubble_c and subcooling_k the liquid line; all temperatures in °C, all
    differences in K. Air temperatures are None where nobody took them.
    """

    after: int
    dew_c: float
    superheat_k: float
    bubble_c: float
    subcooling_k: float
    outdoor_c: float | None = None
    return_c: float | None = None
    return_wet_c: float | None = None
    metric: bool = False


@dataclass(frozen=True)
class Visit:
    """One visit: who came to which unit, how many minutes before now, and what they kept."""

    who: str
    unit: str
    ago: int
    kind: str
    taken: tuple[Taken, ...] = ()
    notes: tuple[tuple[int, str], ...] = ()
    closed: bool = False
    why_closed: str = ""


PEOPLE = (
    Member("wren", "wren", "Wren Halloway", "technician"),
    Member("osric", "osric", "Osric Pell", "technician"),
    Member("tamsin", "tamsin", "Tamsin Brook", "technician"),
    Member("maud", "maud", "Maud Garrow", "supervisor"),
)

SITES = (
    Site(
        "Harrow Vale Creamery",
        "590 ft",
        "Yard gate opens at 06:00. Ask at the dairy for the plant-room key.",
        (
            Unit("walk-in", "Walk-in 1", "walk_in", "R-448A", "modulating", "14 lb", "8 °F", "", "yes"),
            Unit("glycol", "Glycol chiller", "chiller", "R-134a", "modulating", "38 lb", "9 °F", "10 °F", "no"),
        ),
    ),
    Site(
        "Harrow Vale School",
        "690 ft",
        "Caretaker meets at the boiler house. Roof ladder behind the gymnasium.",
        (
            Unit("gym", "Gymnasium split", "split", "R-410A", "fixed", "7 lb 8 oz"),
            Unit("rooftop", "Rooftop 3", "rooftop", "R-454B", "modulating", "9 lb 4 oz", "", "10 °F", "no"),
            Unit("library", "Library heat pump", "heat_pump", "R-410A", "modulating", "8 lb 2 oz", "", "9 °F", "no"),
        ),
    ),
    Site(
        "Gannet Hill Observatory",
        "2150 m",
        "Track is closed in snow. Thin air: a gauge reads nearly three psi more than at sea level for the same gas.",
        (
            Unit("instrument", "Instrument room split", "split", "R-407C", "modulating", "3.4 kg", "", "5 K", "no"),
            Unit("dome", "Dome air dryer", "other", "R-134a", "fixed", "1.6 kg"),
        ),
    ),
    Site(
        "Quayside Fish Market",
        "12 m",
        "Stalls are open until 11:00. Plant room is below the quay, no signal.",
        (
            Unit("rack", "Rack A", "rack", "R-448A", "modulating", "96 kg", "6 K", "", "yes"),
            Unit("low-stage", "Freezer low stage", "rack", "R-744", "modulating", "41 kg", "8 K", "", "yes"),
        ),
    ),
    Site(
        "Oven Lane Bakery",
        "620 ft",
        "Before 04:00 or after 13:00. No open flame near the counter cabinets: propane.",
        (
            Unit("counter", "Counter cabinet 2", "cabinet", "R-290", "fixed", "145 g"),
            Unit("proofer", "Proofer cooler", "cabinet", "R-134a", "fixed", "430 g"),
        ),
    ),
)


DAY = 24 * 60

VISITS = (
    Visit(
        "wren",
        "glycol",
        9 * DAY,
        "inspect",
        (Taken(35, -6.0, 5.2, 38.0, 5.4, 24.5),),
        ((50, "Glycol strength read by refractometer: good to −18 °C. Flow switch proved by shutting the pump off."),),
        True,
        "Done; nothing left open.",
    ),
    Visit(
        "osric",
        "rooftop",
        6 * DAY,
        "inspect",
        (Taken(25, 6.5, 7.6, 44.0, 5.4, 31.0, 24.0, 17.0),),
        ((40, "Filters changed. Condensate trap cleared."),),
        True,
        "Done; look at the drain again in spring.",
    ),
    Visit(
        "tamsin",
        "dome",
        3 * DAY,
        "inspect",
        (Taken(30, 1.0, 6.4, 36.0, 6.1, 12.0, 16.0, 11.0, True),),
        ((45, "Dome dry enough for tonight, says the observer. Wet bulb taken at the return grille."),),
        True,
        "Done.",
    ),
    Visit(
        "wren",
        "walk-in",
        210,
        "repair",
        (
            Taken(20, -14.0, 14.8, 33.0, 1.2, 21.0),
            Taken(150, -9.5, 4.7, 37.0, 4.6, 21.5),
        ),
        (
            (30, "As found: frost on the first rows of the coil only, sight glass full of bubbles, oil at a flare."),
            (120, "Flare remade, held, evacuated, weighed in 3 lb 2 oz of liquid."),
        ),
    ),
    Visit(
        "osric",
        "gym",
        150,
        "inspect",
        (Taken(25, 7.2, 3.0, 46.5, 9.6, 33.0, 24.4, 17.8),),
        ((35, "Coil clean, fan at full speed, 20 minutes of running before this reading."),),
    ),
    Visit(
        "osric",
        "library",
        70,
        "inspect",
        (Taken(20, 5.8, 6.0, 43.0, 5.1, 32.5, 23.8, 17.2),),
    ),
    Visit(
        "tamsin",
        "instrument",
        95,
        "inspect",
        (Taken(25, 2.4, 5.9, 34.0, 4.8, 9.0, 19.5, 11.5, True),),
        ((40, "Barometer of the observatory and the elevation agree. Station pressure, not reduced to sea level."),),
    ),
    Visit(
        "tamsin",
        "low-stage",
        5 * DAY,
        "inspect",
        (Taken(30, -30.0, 9.0, -6.0, 3.0, 14.0, None, None, True),),
        ((45, "Detector in the plant room answers to test gas. Relief valves dated two years ago."),),
        True,
        "Done; relief valves due next year.",
    ),
)  # fmt: skip
