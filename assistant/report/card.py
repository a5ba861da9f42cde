"""What a sheet for the cab holds: her figures, her marks, what to do in trouble, what to say.

Knows the engine and the emergencies; no paper and no page.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.boiler.scales import LITRE_M3, PRESSURE_PA
from assistant.config.engine_file import EngineFile
from assistant.procedure.emergency import Emergencies
from assistant.procedure.scale import options
from assistant.wording.dial_units import in_dial
from assistant.wording.fittings import FITTINGS, without
from assistant.wording.things_to_say import on_the_card

CAUTION = (
    "This card assists. Her own instructions, the inspecting body, local codes and licensed"
    " practice come first. Look at the gauges."
)
# The acts of these stand on the card, the gravest first; the program speaks all of them.
FIRST = (
    "water out of sight", "low water", "over-pressure", "gauge not to be believed",
    "plug has gone", "tube has burst", "water in the firebox", "plate is red hot",
    "safety valve is stuck",
    "glass broken", "steam escaping", "flames out of the firehole", "regulator is stuck open",
    "engine is running away",
    "someone hurt", "somebody is burned", "someone is trapped", "fire outside", "chimney fire",
    "clack is stuck open", "blow down is stuck open", "touched a power line", "driver is ill",
    "engine is over", "child inside the barrier",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class GlassDrawn:
    """The gauge glass: heights are fractions of what is visible."""

    lower_mark: float
    upper_mark: float
    cold_fill: float
    visible: str
    """Its length, in words."""


@dataclass(frozen=True, slots=True)
class Acts:
    """What to do in one trouble."""

    name: str
    acts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """Both sides of the card."""

    name: str
    under: str
    """Owner and number, where the file has them."""
    figures: tuple[tuple[str, str], ...]
    glass: GlassDrawn
    says: tuple[tuple[str, str], ...]
    """Form and how it varies."""
    acts: tuple[Acts, ...]
    ending: str
    general: bool
    """Whether the acts are those of the general file and not her owner's."""
    caution: str = CAUTION


def card_of(engine: EngineFile, emergencies: Emergencies) -> Card:
    """The card of an engine, in the unit of its dial."""
    dial = engine.pressure_unit
    named = [f"Owner: {engine.owner}"] if engine.owner else []
    named += [f"Boiler {engine.number}"] if engine.number else []
    named += ["invented: no real engine"] if engine.invented else []
    glass = engine.engine.glass
    return Card(
        name=engine.engine.name,
        under=", ".join(named),
        figures=tuple(_figures(engine)),
        glass=GlassDrawn(
            glass.lower_mark, glass.upper_mark, glass.cold_fill, f"{glass.visible_m * 1000:.0f} mm"
        ),
        says=tuple((saying.form, saying.varies) for saying in on_the_card(dial)),
        acts=tuple(_acts(engine, emergencies)),
        ending=" ".join(filter(None, (emergencies.second_person, emergencies.ending))),
        general=emergencies.general,
    )


def _figures(engine: EngineFile) -> Iterator[tuple[str, str]]:
    figures, dial = engine.engine, engine.pressure_unit
    pressures = (
        ("Allowed (plate)", figures.allowed_pressure_gauge_pa),
        ("Wanted, the highest", figures.working_pressure_gauge_pa),
        ("Valve feathers", figures.valve_feathers_gauge_pa),
        ("Valve lifts", figures.valve_lifts_gauge_pa),
        ("Wood until", figures.wood_until_gauge_pa),
        ("Injector from", figures.injector_from_gauge_pa),
    )
    for name, pascal in pressures:
        if pascal is not None:
            yield name, pressure_words(pascal, dial)
    if figures.tank_m3:
        yield "Tank", f"{figures.tank_m3 / LITRE_M3:.0f} litre"
    low, high = figures.glass.points[0], figures.glass.points[-1]
    per_tenth = (high[1] - low[1]) / (high[0] - low[0]) / 10.0
    yield "A tenth of the glass", f"{per_tenth:.2g} litre"


def pressure_words(pascal: float, unit: str) -> str:
    """A gauge pressure as the dial shows it.

    >>> pressure_words(827370.875, "psi"), pressure_words(5e5, "bar")
    ('120 psi', '5 bar')
    """
    return f"{float(f'{pascal / PRESSURE_PA[unit]:.3g}'):g} {unit}"


def _acts(engine: EngineFile, emergencies: Emergencies) -> Iterator[Acts]:
    missing = FITTINGS - options(engine.engine)
    rank = {name: place for place, name in enumerate(FIRST)}
    for entry in sorted(emergencies.entries, key=lambda each: rank.get(each.name, len(rank))):
        acts = (without(in_dial(act, engine.pressure_unit), missing) for act in entry.acts)
        yield Acts(_title(entry.name), tuple(act for act in acts if act))


def _title(name: str) -> str:
    return f"{name[0].upper()}{name[1:]}"
