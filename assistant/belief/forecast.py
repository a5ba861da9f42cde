"""Pressure and time to a pressure if nothing is changed. Reads a belief, changes nothing.

`why` is made of the numbers used; pressures in it are in pounds (psi), as the trade says them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array, Band, band, weighted_quantile
from assistant.belief.estimate import Belief, mass_kg, temperature_now_k
from assistant.belief.hold_detection import held_since, in_pounds, obstacle, steam_draw_w
from assistant.belief.water_balance import feed_kg_per_s
from assistant.boiler.scales import LITRE_M3
from assistant.boiler.vessel import (
    Contents,
    boiling_k,
    exchanged,
    feed_enthalpy_j_per_kg,
    gauge_pa,
    vessel_of,
)

FEED_K = 288.15  # water in the tank, 15 C: common practice, no source
FEED_GOES_ON_S = 180.0  # how long a feed is expected to stay on: common practice, no source
COLD_M3_PER_KG = 0.001001  # cold feed
MOST_MINUTES = 24 * 60.0
# Power to which the band is stretched about its middle, by whether the needle has moved and whether
# there are earlier runs; fitted to simulated steam-ups held out from every test and bench.
CALIBRATION = {False: {False: 0.84, True: 0.98}, True: {False: 0.85, True: 1.20}}
NOW = Band(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Minutes:
    """Minutes from now, or None with the reason in `why`."""

    band: Band | None
    why: str


@dataclass(frozen=True, slots=True)
class FeedCost:
    """What a feed costs."""

    drop_pa: Band
    """the pressure it takes [Pa]"""
    minutes: Band | None
    """until that is back"""
    why: str
    """the figures used, in words"""


def pressure(belief: Belief) -> Band:
    """What the gauge shows now [Pa gauge]."""
    return band(belief.gauge_draws_pa, belief.outlook.weight)


def minutes_to(belief: Belief, pressure_gauge_pa: float) -> Minutes:
    """Minutes until the gauge shows a pressure [Pa gauge] if nothing is changed."""
    if belief.facts.gauge_and_valve.conflict is not None:
        return Minutes(None, "gauge and valve disagree")
    if not belief.posterior.fits:
        return Minutes(None, "what was called fits no fire")
    now = pressure(belief)
    if now.mid >= pressure_gauge_pa:
        return Minutes(NOW, f"{in_pounds(now.mid)} is already on the gauge")
    engine, history = belief.engine, belief.history
    reason = obstacle(engine, history, belief.accepted, pressure_gauge_pa, now.mid)
    if reason is not None:
        return Minutes(None, reason)
    draws = _raw_minutes(belief, pressure_gauge_pa)
    if weighted_quantile(draws, belief.outlook.weight, 0.5) > MOST_MINUTES:
        wanted = in_pounds(pressure_gauge_pa)
        return Minutes(None, f"with the regulator open {wanted} does not come")
    minutes = band(_calibrated(draws, belief), belief.outlook.weight)
    return Minutes(minutes, _why(belief, now, pressure_gauge_pa, minutes))


def minute_draws(belief: Belief, pressure_gauge_pa: float) -> Array:
    """Minutes until the gauge shows a pressure [Pa gauge], one value for each future.

    Their weights are `belief.outlook.weight`; `minutes_to` says whether they mean anything.
    """
    return _calibrated(_raw_minutes(belief, pressure_gauge_pa), belief)


def _raw_minutes(belief: Belief, pressure_gauge_pa: float) -> Array:
    """The minutes of each future as drawn."""
    engine = belief.engine
    target = belief.grid.position(boiling_k(pressure_gauge_pa, engine.atmosphere_pa))
    watts = _watts(belief)
    draw_w = steam_draw_w(engine, belief.history, belief.facts.full_fire_w)
    share = np.maximum(watts - draw_w, 1e-3 * watts) / watts
    seconds = belief.outlook.seconds_to(target) / share + _feed_heat_j(belief) / watts
    return np.asarray(seconds / 60.0, dtype=float)


def minutes_to_lift(belief: Belief) -> Minutes:
    """Minutes until the safety valve lifts if nothing is changed."""
    if belief.history.state("valve") == "lifting":
        return Minutes(NOW, "the valve is lifting")
    return minutes_to(belief, belief.engine.valve_lifts_gauge_pa)


def only_nearer(belief: Belief) -> bool:
    """Whether time alone only brings a pressure nearer: nothing is fed, nothing holds the rise."""
    facts = belief.facts
    return facts.is_static and not facts.is_held and held_since(belief.history) is None


def _feed_heat_j(belief: Belief) -> float:
    """Heat that a feed which is on will still take [J]."""
    kg = feed_kg_per_s(belief.engine, belief.history, belief.at_s) * FEED_GOES_ON_S
    return kg * 4200.0 * max(temperature_now_k(belief) - FEED_K, 0.0)


def _calibrated(raw: Array, belief: Belief) -> Array:
    """The draws narrowed or widened about their middle, in proportion.

    Before the needle moves they rest on priors kept wide, so that a wrong engine file costs little;
    after a few runs much alike they come out too narrow.
    """
    moved = any(p.gauge_pa > 0.0 for p in belief.accepted)
    power = CALIBRATION[moved][belief.shared.runs > 0]
    middle = max(weighted_quantile(raw, belief.outlook.weight, 0.5), 1e-3)
    return np.asarray(middle * (np.maximum(raw, 1e-3) / middle) ** power, dtype=float)


def _watts(belief: Belief) -> Array:
    """Net heat into the water at present, one value for each future [W]."""
    outlook = belief.outlook
    cell = np.minimum(outlook.now.astype(int), outlook.cell_s.shape[1] - 1)
    per_cell = outlook.cell_s[np.arange(len(cell)), cell]
    return np.asarray(belief.grid.heat_j[cell] / per_cell, dtype=float)


def _why(belief: Belief, now: Band, target_pa: float, minutes: Band) -> str:
    rate_kw = weighted_quantile(_watts(belief), belief.outlook.weight, 0.5) / 1000.0
    reasons = [
        f"{in_pounds(now.mid)} now, {in_pounds(target_pa)} wanted",
        f"about {rate_kw:.2g} kilowatts go into the water"
        + (f", learned from {belief.shared.runs} earlier runs" if belief.shared.runs else ""),
        f"{minutes.low:.0f} to {minutes.high:.0f} minutes",
    ]
    if belief.history.state("feed") == "on":
        reasons.append("the feed that is on takes some of it")
    doubted = belief.segmented_run.doubted
    if doubted and doubted[-1] == belief.history.pressures[-1]:
        reasons.append(f"the last call, {in_pounds(doubted[-1].gauge_pa)}, is left out")
    return "; ".join(reasons)


def feed_cost(belief: Belief, litres: float) -> FeedCost:
    """Pressure and minutes lost by putting in this much cold feed now, quickly [litre].

    Raises ValueError for less than nothing, no number, or more than the boiler has room for.
    """
    if not 0.0 <= litres <= belief.engine.volume_m3 / LITRE_M3:
        raise ValueError(f"{litres} litre do not go into the boiler")
    vessel, kg = vessel_of(belief.engine), mass_kg(belief)
    hot = temperature_now_k(belief)
    fed_kg = litres * LITRE_M3 / COLD_M3_PER_KG
    feed = feed_enthalpy_j_per_kg(FEED_K)
    cool = exchanged(vessel, Contents(kg, hot), 0.0, fed_kg, feed).temperature_k
    atmosphere = belief.engine.atmosphere_pa
    before, after = (max(gauge_pa(t, atmosphere), 0.0) for t in (hot, cool))
    drop = before - after
    seconds = belief.outlook.cell_s
    start = belief.grid.position(cool)
    cell = min(int(start), seconds.shape[1] - 1)
    s_per_j = seconds[:, cell] / belief.grid.heat_j[cell]
    heat = fed_kg * (feed_enthalpy_j_per_kg(min(hot, 470.0), 3e6) - feed)
    minutes = band(heat * s_per_j / 60.0, belief.outlook.weight)
    return FeedCost(
        Band(0.85 * drop, drop, 1.1 * drop),
        minutes,
        f"{litres:g} litres take {in_pounds(before)} to {in_pounds(after)}; "
        f"{_in_minutes(minutes.mid)} of this fire",
    )


def _in_minutes(minutes: float) -> str:
    """Whole minutes as they are told."""
    whole = round(max(minutes, 0.0))
    return "less than a minute" if whole < 1 else "1 minute" if whole == 1 else f"{whole} minutes"
