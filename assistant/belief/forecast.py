"""What will happen as things stand: pressure, time, water. Reads a belief, changes nothing.

`why` is made of the numbers used; pressures in it are in pounds (psi), as the trade speaks.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array, Band, band, weighted_quantile
from assistant.belief.estimate import Belief, mass_kg, temperature_now_k
from assistant.belief.hold_detection import against, held_since, pounds, taken_w
from assistant.belief.water import out_of_sight
from assistant.belief.water_balance import feed_kg_per_s
from assistant.belief.water_trend import Trend, trend
from assistant.boiler import glass
from assistant.boiler.feed import pump_m3_per_s, tank_minutes
from assistant.boiler.scales import LITRE_M3, PSI_PA
from assistant.boiler.vessel import (
    Contents,
    boiling_k,
    exchanged,
    feed_enthalpy_j_per_kg,
    gauge_pa,
    vessel_of,
)

FEED_K = 288.15  # water in the tank, 15 C: common practice, no source


@dataclass(frozen=True, slots=True)
class Minutes:
    """Minutes from now, or None with the reason in `why`."""

    band: Band | None
    why: str


@dataclass(frozen=True, slots=True)
class Cost:
    """What a feed costs: the pressure it takes [Pa] and the minutes until that is back."""

    drop_pa: Band
    minutes: Band | None
    why: str


@dataclass(frozen=True, slots=True)
class Used:
    """Used so far; None where nothing tells. water_kg: out of the boiler; fuel_kg: rough."""

    water_kg: float | None
    fed_kg: float
    fuel_kg: float | None
    tank_minutes: float | None
    why: str


NOTHING, FULL = Band(0.0, 0.0, 0.0), Band(1.0, 1.0, 1.0)
TENTH = 1.2815515655446004  # standard deviations to the 10 and 90 % points


def pressure(belief: Belief) -> Band:
    """What the gauge shows now [Pa gauge]."""
    return band(belief.gauge_draws_pa, belief.ahead.weight)


def water(belief: Belief) -> Band:
    """What the glass shows now [fraction of the glass, held to it]; out of sight counts as empty
    unless the level was last near the top."""
    middle, spread = belief.water.shown(belief.at_s)
    if out_of_sight(belief.history):
        return FULL if middle > 0.85 else NOTHING
    low, mid, high = (min(max(middle + k * spread, 0.0), 1.0) for k in (-TENTH, 0.0, TENTH))
    return Band(low, mid, high)


def water_middle(belief: Belief) -> float:
    """The middle alone of what `water` says [fraction of the glass]."""
    kg, kelvin = belief.water.middle_kg(belief.at_s), belief.track.at(belief.at_s)
    middle = glass.shown_for(belief.engine, kg, kelvin)
    if out_of_sight(belief.history):
        return 1.0 if middle > 0.85 else 0.0
    return min(max(middle, 0.0), 1.0)


def minutes_to(belief: Belief, pressure_gauge_pa: float) -> Minutes:
    """Minutes until the gauge shows a pressure [Pa gauge] if nothing is changed."""
    now = pressure(belief)
    if now.mid >= pressure_gauge_pa:
        return Minutes(NOTHING, f"{pounds(now.mid)} is already on the gauge")
    engine, history = belief.engine, belief.history
    reason = against(engine, history, belief.believed, pressure_gauge_pa, now.mid)
    if reason is not None:
        return Minutes(None, reason)
    target = belief.grid.position(boiling_k(pressure_gauge_pa, engine.atmosphere_pa))
    seconds = belief.ahead.seconds_to(target)
    watts = _watts(belief)
    taken = taken_w(engine, history, belief.facts.full_w)
    share = np.maximum(watts - taken, 1e-3 * watts) / watts
    minutes = band((seconds / share + _feed_heat_j(belief) / watts) / 60.0, belief.ahead.weight)
    if minutes.mid > MOST_MIN:
        return Minutes(None, f"with the regulator open {pounds(pressure_gauge_pa)} does not come")
    minutes = _calibrated(minutes, belief)
    return Minutes(minutes, _why(belief, now, pressure_gauge_pa, minutes))


def only_nearer(belief: Belief) -> bool:
    """Whether time alone only brings a pressure nearer: nothing is fed, nothing holds the rise."""
    facts = belief.facts
    return facts.stands and not facts.holds and held_since(belief.history) is None


MOST_MIN = 24 * 60.0
FEED_GOES_ON_S = 180.0  # how long a feed that is on is taken to stay on: common practice, no source


def _feed_heat_j(belief: Belief) -> float:
    """Heat that a feed which is on will still take [J]."""
    kg = feed_kg_per_s(belief.engine, belief.history, belief.at_s) * FEED_GOES_ON_S
    return kg * 4200.0 * max(temperature_now_k(belief) - FEED_K, 0.0)


def _calibrated(wide: Band, belief: Belief) -> Band:
    """The band narrowed or widened about its middle, in proportion.

    While nothing has moved the band rests on priors that are wider than simulated engines need, so
    that a wrong engine file costs little; after few and like runs it comes out too narrow. By how
    much was measured on simulated steam-ups that no test or bench judges by.
    """
    moving = any(p.gauge_pa > 0.0 for p in belief.believed)
    share = _SHARES[moving][belief.shared.runs > 0]
    low, high = (wide.mid * (end / wide.mid) ** share if wide.mid > 0.0 else end
                 for end in (max(wide.low, 1e-3), wide.high))  # fmt: skip
    return Band(min(low, wide.mid), wide.mid, high)


_SHARES = {False: (0.84, 0.98), True: (0.85, 1.20)}  # moving or not: without and with earlier runs


def _watts(belief: Belief) -> Array:
    """Net heat into the water at present, one value for each future [W]."""
    here = belief.ahead
    cell = np.minimum(here.now.astype(int), here.cell_s.shape[1] - 1)
    per_cell = here.cell_s[np.arange(len(cell)), cell]
    return np.asarray(belief.grid.heat_j[cell] / per_cell, dtype=float)


def _why(belief: Belief, now: Band, target_pa: float, minutes: Band) -> str:
    rate_kw = weighted_quantile(_watts(belief), belief.ahead.weight, 0.5) / 1000.0
    told = [
        f"{pounds(now.mid)} now, {pounds(target_pa)} wanted",
        f"about {rate_kw:.2g} kilowatts go into the water"
        + (f", learned from {belief.shared.runs} earlier runs" if belief.shared.runs else ""),
        f"{minutes.low:.0f} to {minutes.high:.0f} minutes",
    ]
    if belief.history.state("feed") == "on":
        told.append("the feed that is on takes some of it")
    if belief.rises.doubted and belief.rises.doubted[-1] == belief.history.pressures[-1]:
        told.append(f"the last call, {pounds(belief.rises.doubted[-1].gauge_pa)}, is left out")
    return "; ".join(told)


# --- water ---------------------------------------------------------------------------------------


def water_trend(belief: Belief) -> Trend:
    """Whether the glass rises or falls, and by what."""
    return trend(belief.water, belief.at_s)


def minutes_to_lower_mark(belief: Belief) -> Minutes:
    """Minutes until the glass falls to the engine's lower mark, without counting on expansion."""
    mark = belief.engine.glass.lower_mark
    middle, spread = belief.water.shown(belief.at_s)
    if middle <= mark or out_of_sight(belief.history):
        return Minutes(NOTHING, f"the glass is at {middle:.2f}, the mark at {mark:.2f}")
    rate, rate_sd = _glass_per_min(belief)
    return _minutes_to_mark(middle - mark, spread, -rate, rate_sd)


def minutes_to_upper_mark(belief: Belief) -> Minutes:
    """Minutes until the glass rises to the engine's upper mark, by feed or by expansion."""
    mark = belief.engine.glass.upper_mark
    middle, spread = belief.water.shown(belief.at_s)
    if middle >= mark:
        return Minutes(NOTHING, f"the glass is at {middle:.2f}, the mark at {mark:.2f}")
    if belief.history.state("feed") == "on":
        rate, rate_sd = _glass_per_min(belief)
        return _minutes_to_mark(mark - middle, spread, rate, rate_sd)
    kg = belief.water.mass(belief.at_s)[0]
    hottest = boiling_k(belief.engine.valve_lifts_gauge_pa, belief.engine.atmosphere_pa)
    low, high = temperature_now_k(belief), hottest
    if glass.shown_for(belief.engine, kg, high) < mark or low >= high:
        return Minutes(None, f"expansion does not bring the glass to {mark:.2f}")
    for _ in range(25):
        half = (low + high) / 2.0
        low, high = (half, high) if glass.shown_for(belief.engine, kg, half) < mark else (low, half)
    by_then = minutes_to(belief, gauge_pa(high, belief.engine.atmosphere_pa))
    return Minutes(by_then.band, f"by expansion: {by_then.why}")


def _glass_per_min(belief: Belief) -> tuple[float, float]:
    """Movement of the glass as things stand, without expansion: a minute's middle and spread."""
    water_, now = belief.water, belief.at_s
    parts = water_.parts(now, now + 600.0)
    per_kg = water_.glass_per_kg(belief.track.at(now))
    lost = parts.lost if water_.losing > 0.5 else 0.0
    moved = parts.fed - parts.taken - max(lost, 0.0)
    spread = 0.3 * abs(parts.fed) + 0.4 * abs(parts.taken) + (parts.lost_sd if lost else 0.0)
    return moved * per_kg / 10.0, spread * per_kg / 10.0


def _minutes_to_mark(rise_facts: float, way_sd: float, rate: float, rate_sd: float) -> Minutes:
    """Way over rate, both uncertain, from even quantiles of both."""
    if rate < 1.0 / 480.0 / 2.0:  # half the glass in eight hours: it stands
        return Minutes(None, f"the glass moves {abs(rate):.4f} a minute: it stands")
    normal = np.array([-1.645, -1.036, -0.674, -0.385, -0.126, 0.126, 0.385, 0.674, 1.036, 1.645])
    ways = np.maximum(rise_facts + way_sd * normal, 0.0)
    rates = np.maximum(rate + rate_sd * normal, 0.1 * rate)
    minutes = (ways[:, None] / rates[None, :]).ravel()
    return Minutes(
        band(minutes, np.ones(len(minutes))),
        f"{rise_facts:.2f} of the glass at {rate:.4f} a minute",
    )


def feed_cost(belief: Belief, litres: float) -> Cost:
    """Pressure lost and minutes lost by putting in so much cold feed now, quickly [litre].

    Raises ValueError for less than nothing, no number, or more than the boiler has room for.
    """
    if not 0.0 <= litres <= belief.engine.volume_m3 / LITRE_M3:
        raise ValueError(f"{litres} litre do not go into the boiler")
    vessel, kg = vessel_of(belief.engine), mass_kg(belief)
    hot = temperature_now_k(belief)
    fed_kg = litres * LITRE_M3 / 0.001001
    feed = feed_enthalpy_j_per_kg(FEED_K)
    cool = exchanged(vessel, Contents(kg, hot), 0.0, fed_kg, feed).temperature_k
    atmosphere = belief.engine.atmosphere_pa
    before, after = (max(gauge_pa(t, atmosphere), 0.0) for t in (hot, cool))
    drop = before - after
    seconds = belief.ahead.cell_s
    start = belief.grid.position(cool)
    cell = min(int(start), seconds.shape[1] - 1)
    slow = seconds[:, cell] / belief.grid.heat_j[cell]
    heat = fed_kg * (feed_enthalpy_j_per_kg(min(hot, 470.0), 3e6) - feed)
    cost = band(heat * slow / 60.0, belief.ahead.weight)
    return Cost(
        Band(0.85 * drop, drop, 1.1 * drop),
        cost,
        f"{litres:g} litres take {pounds(before)} to {pounds(after)}; "
        f"{cost.mid:.0f} minutes of this fire",
    )


def minutes_to_lift(belief: Belief) -> Minutes:
    """Minutes until the safety valve lifts if nothing is changed."""
    if belief.history.state("valve") == "lifting":
        return Minutes(NOTHING, "the valve is lifting")
    return minutes_to(belief, belief.engine.valve_lifts_gauge_pa)


def used(belief: Belief) -> Used:
    """Water and fuel used so far, and how long the tank lasts at this use."""
    tanks = belief.history.tanks
    from_tank = tanks[0].volume_m3 - tanks[-1].volume_m3 if len(tanks) > 1 else 0.0
    fed_kg = max(from_tank, 0.0) / 0.001001
    gone = belief.filled_kg + fed_kg - mass_kg(belief)
    burnt = _fuel_kg(belief)
    minutes = None
    if tanks and len(tanks) > 1 and tanks[-1].at_s > tanks[0].at_s:
        rate = from_tank / (tanks[-1].at_s - tanks[0].at_s)
        minutes = tank_minutes(tanks[-1].volume_m3, rate)
    elif tanks and belief.history.state("feed") == "on":
        minutes = tank_minutes(tanks[-1].volume_m3, pump_m3_per_s(belief.engine))
    water_kg = max(gone, 0.0)
    return Used(
        water_kg,
        fed_kg,
        burnt,
        minutes,
        f"{water_kg:.1f} kilograms of water gone, {fed_kg:.1f} fed",
    )


def _fuel_kg(belief: Belief) -> float | None:
    """Coal for the heat taken up so far: 30 MJ/kg (UK DUKES table A.1), 0.4 of it into the water
    (miniature 0.25-0.5, from memory)."""
    if belief.history.lit_s is None:
        return None
    position = weighted_quantile(belief.ahead.now, belief.ahead.weight, 0.5)
    whole = int(position)
    heat = float(np.sum(belief.grid.heat_j[:whole]))
    return heat / (0.4 * 30e6)


def summary(belief: Belief, target_gauge_pa: float) -> dict[str, object]:
    """Everything at once in the words and units of the `forecast` verb's JSON."""
    minutes, now, level = minutes_to(belief, target_gauge_pa), pressure(belief), water(belief)
    tells = water_trend(belief)
    lower, upper = minutes_to_lower_mark(belief), minutes_to_upper_mark(belief)
    return {
        "at_s": belief.at_s,
        "target_psi": target_gauge_pa / PSI_PA,
        "pressure_psi": _record(now, 1.0 / PSI_PA),
        "minutes": None if minutes.band is None else _record(minutes.band),
        "water": {
            "glass": _record(level),
            "trend": tells.word,
            "cause": tells.cause,
            "minutes_to_lower_mark": None if lower.band is None else _record(lower.band),
            "minutes_to_upper_mark": None if upper.band is None else _record(upper.band),
            "why": tells.why,
        },
        "why": minutes.why,
        "learned_from": belief.shared.runs,
        "chance_of_unseen_loss": round(belief.water.losing, 3),
    }


def _record(of: Band, scale: float = 1.0) -> dict[str, float]:
    return {name: round(getattr(of, name) * scale, 4) for name in ("low", "mid", "high")}
