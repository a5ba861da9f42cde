"""What we believe about one boiler in one run: begin, predict, update. Pure; time is an argument.

A belief is the engine, what was learned of it, and everything usable that was reported; what
follows from them is worked out when first asked for. A report that is no number, off the gauge,
of a wrong unit or at a time that is no number changes nothing (`history.fault` says why).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from assistant.belief.bands import Array, weighted_quantile
from assistant.belief.futures import Outlook, outlook
from assistant.belief.history import (
    History,
    Pressure,
    Water,
    fact_of,
    report_fault,
    rounding_height,
)
from assistant.belief.hold_detection import HELD, held_s
from assistant.belief.learning import EarlierRun, learned
from assistant.belief.prior import Shared
from assistant.belief.rate_fit import Posterior
from assistant.belief.run_facts import RiseFacts, RunFacts
from assistant.belief.segments import Segments
from assistant.belief.temperature_grid import TemperatureGrid
from assistant.belief.temperature_track import TemperatureTrack, believed_pressures
from assistant.belief.water import WaterBelief
from assistant.boiler.figures import Engine
from assistant.boiler.steam import saturation_pressure_abs_pa
from assistant.messages import Report


@dataclass(frozen=True)
class Belief:
    """All that is known at `at_s`. Equal beliefs give equal answers.

    course: what follows from the reports alone, shared by the beliefs between two of them.
    """

    engine: Engine
    at_s: float
    shared: Shared
    history: History = field(default_factory=History)
    facts: RunFacts = field(compare=False, repr=False, kw_only=True)

    @property
    def filled_kg(self) -> float:
        """Water at the start [kg]: by the first glass seen, or the owner's cold fill."""
        return self.facts.filled_kg

    @property
    def track(self) -> TemperatureTrack:
        """The water's temperature over time, by the pressures called."""
        return self.facts.track

    @property
    def believed(self) -> tuple[Pressure, ...]:
        """The pressures that stand."""
        return self.facts.called.stand

    @property
    def water(self) -> WaterBelief:
        """The water over time."""
        return self.facts.water

    @property
    def rise_facts(self) -> RiseFacts:
        """The way up as it looks now."""
        return self.facts.rise_facts(self.at_s)

    @property
    def grid(self) -> TemperatureGrid:
        """The way from cold to hot in cells, with the water that was in the boiler at each."""
        return self.rise_facts.grid

    @property
    def rises(self) -> Segments:
        """The readings as bounds."""
        return self.rise_facts.rises

    @property
    def posterior(self) -> Posterior:
        """What the readings say about the heat rate."""
        return self.rise_facts.posterior

    @cached_property
    def ahead(self) -> Outlook:
        """Futures from now on."""
        lit_s, last = self.history.lit_s, self.rises.last
        since = last.at_s if last is not None else self.at_s if lit_s is None else lit_s
        silent_s = self.at_s - since
        held = silent_s if self.facts.holds else held_s(self.history, since, self.at_s)
        held *= 1.0 - HELD
        return outlook(self.rise_facts.futures, self.at_s, lit_s, held)

    @cached_property
    def gauge_draws_pa(self) -> Array:
        """What the gauge may show now [Pa gauge], one value for each future."""
        return gauge_at(self, self.ahead.now)


def gauge_at(belief: Belief, position: Array) -> Array:
    """Gauge pressures [Pa] at positions of the ladder; 0 below boiling."""
    edges = belief.grid.edges_k
    kelvin = np.interp(position, np.arange(len(edges)), edges)
    return np.maximum(saturation_pressure_abs_pa(kelvin) - belief.engine.atmosphere_pa, 0.0)


def begin(engine: Engine, at_s: float, past: Sequence[EarlierRun] = ()) -> Belief:
    """A belief before anything was reported. `past`: earlier runs (`learn.past_run`)."""
    shared = learned(engine, past)
    return Belief(engine, at_s, shared, facts=RunFacts(engine, shared, History()))


def mass_kg(belief: Belief) -> float:
    """All water in the boiler now [kg]."""
    return belief.water.mass(belief.at_s)[0]


def predict(belief: Belief, at_s: float) -> Belief:
    """The belief later on, nothing more reported. An earlier time or no number: unchanged."""
    return replace(belief, at_s=at_s) if math.isfinite(at_s) and at_s > belief.at_s else belief


def update(belief: Belief, report: Report, at_s: float) -> Belief:
    """The belief with one report more; unchanged by one that it can make no use of.

    A report older than the belief takes its place in the order of time.
    """
    fact = fact_of(belief.engine, report, at_s)
    if fact is None:
        return predict(belief, at_s)
    return _of(belief, max(at_s, belief.at_s), belief.history.with_fact(fact))


def _of(belief: Belief, at_s: float, history: History) -> Belief:
    facts = belief.facts.with_history(history)
    return replace(belief, at_s=at_s, history=history, facts=facts)


def retracted(belief: Belief, report: Report, at_s: float) -> Belief:
    """The belief as if this report of that time had never been made (taken back)."""
    fact = fact_of(belief.engine, report, at_s)
    return belief if fact is None else _of(belief, belief.at_s, belief.history.without(fact))


# --- is this reading likely, is it possible? -----------------------------------------------------

FLAT = 0.2  # part of every chance that no belief may take away


def chance(belief: Belief, report: Report) -> float | None:
    """How probable a reading is now, in its rounding step, among all values of its gauge.

    Eight tenths by the belief, two tenths flat over the dial. None where the boiler says nothing
    (states, subjects of a checklist, the tank); 0 for a value that cannot be on the gauge.
    """
    if report.what not in {"pressure", "water"}:
        return None
    if report_fault(belief.engine, report) is not None:
        return 0.0
    fact = fact_of(belief.engine, report, belief.at_s)
    if isinstance(fact, Pressure):
        step = max(belief.history.step_pa, fact.unit_pa)
        blur = 0.3 * step
        draws, weight = belief.gauge_draws_pa, belief.ahead.weight
        inside = _mass(draws, weight, fact.gauge_pa, step, blur)
        return (1.0 - FLAT) * inside + FLAT * step / belief.engine.dial_top_gauge_pa
    if isinstance(fact, Water):
        step = rounding_height(belief.history.waters)
        middle, spread = belief.water.shown(belief.at_s)
        spread = math.hypot(spread, 0.02)
        if fact.height is None:
            outside = _tail(middle / spread) + _tail((1.0 - middle) / spread)
            return (1.0 - FLAT) * outside + FLAT * step
        low, high = fact.height - step / 2.0, fact.height + step / 2.0
        inside = _tail((low - middle) / spread) - _tail((high - middle) / spread)
        return (1.0 - FLAT) * max(inside, 0.0) + FLAT * step
    return None


def _mass(draws: Array, weight: Array, middle: float, step: float, blur: float) -> float:
    upper = np.clip((middle + step / 2.0 - draws) / (2.0 * blur) + 0.5, 0.0, 1.0)
    lower = np.clip((middle - step / 2.0 - draws) / (2.0 * blur) + 0.5, 0.0, 1.0)
    return float(np.sum(weight * (upper - lower)))


def _tail(x: float) -> float:
    """Normal probability above x."""
    return 0.5 * math.erfc(x / math.sqrt(2.0))


def objection(belief: Belief, report: Report) -> str | None:
    """Why physics forbids a reading now, as it would be said; None when it does not."""
    fact = fact_of(belief.engine, report, belief.at_s)
    if fact is None:
        return report_fault(belief.engine, report)
    if isinstance(fact, Pressure):
        return _pressure_objection(belief, fact, report)
    if isinstance(fact, Water) and fact.height is not None:
        return _water_objection(belief, fact.height)
    return None


def _water_objection(belief: Belief, height: float) -> str | None:
    """A glass that neither feed, swell nor a leak could move so far."""
    seen = belief.water.seen
    if not seen or seen[-1].height is None:
        return None
    middle, spread = belief.water.shown(belief.at_s)
    if abs(height - middle) < 0.4 + 2.5 * spread:
        return None
    minutes = max((belief.at_s - seen[-1].at_s) / 60.0, 1.0)
    plural = "minute" if round(minutes) == 1 else "minutes"
    return f"glass {seen[-1].height:.2f} to {height:.2f} in {minutes:.0f} {plural}"


def _pressure_objection(belief: Belief, fact: Pressure, report: Report) -> str | None:
    if not belief.believed:
        return None
    trial = belief.history.with_fact(fact).of_this_fire()
    if fact not in believed_pressures(belief.engine, trial, belief.grid).doubted:
        return None
    before = belief.believed[-1]
    minutes = max((belief.at_s - before.at_s) / 60.0, 1.0)
    plural = "minute" if round(minutes) == 1 else "minutes"
    value = before.gauge_pa / fact.unit_pa
    return f"{value:.3g} to {float(report.value):.3g} in {minutes:.0f} {plural}"


def temperature_now_k(belief: Belief, part: float = 0.5) -> float:
    """The middle of what the water's temperature may be now, or another part of it [K]."""
    position = weighted_quantile(belief.ahead.now, belief.ahead.weight, part)
    return belief.grid.temperature_k(position)


def temperature_at_k(belief: Belief, at_s: float) -> float:
    """The water's temperature at a time [K], between the pressures that were called."""
    return belief.track.at(at_s)
