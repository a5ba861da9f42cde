"""The belief about one boiler in one run: begin, predict, update. Pure; time is an argument.

A belief is the engine, what was learned of it, and every usable report; what follows from them is
computed when first asked for. A report that is no number, off the gauge, of a wrong unit or at a
time that is no number changes nothing (`history.report_fault` says why).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from assistant.belief.bands import Array, weighted_quantile
from assistant.belief.futures import Outlook, outlook_from
from assistant.belief.history import (
    Acts,
    History,
    Pressure,
    Water,
    fact_of,
    report_fault,
    rounding_height,
)
from assistant.belief.hold_detection import HELD_SHARE, held_s
from assistant.belief.learning import EarlierRun, learned
from assistant.belief.prior import Shared
from assistant.belief.rate_fit import Posterior
from assistant.belief.run_facts import RiseFacts, RunFacts
from assistant.belief.segments import SegmentedRun
from assistant.belief.temperature_grid import TemperatureGrid
from assistant.belief.temperature_track import TemperatureTrack, screened_pressures
from assistant.belief.water import WaterBelief
from assistant.boiler.figures import Engine
from assistant.boiler.steam import saturation_pressure_abs_pa
from assistant.messages import Report

LEAST = 0.25  # quantile of what the gauge may show. Judgement


@dataclass(frozen=True)
class Belief:
    """All that is known at one time. Equal beliefs give equal answers."""

    engine: Engine
    at_s: float
    shared: Shared
    """what all steam-ups of this engine have in common"""
    history: History = field(default_factory=History)
    """the reports"""
    facts: RunFacts = field(compare=False, repr=False, kw_only=True)
    """what follows from the reports alone; beliefs between two reports share it"""

    @property
    def filled_kg(self) -> float:
        """Water at the start [kg]: by the first glass seen, or the owner's cold fill."""
        return self.facts.filled_kg

    @property
    def track(self) -> TemperatureTrack:
        """The water's temperature over time, by the accepted pressures."""
        return self.facts.track

    @property
    def accepted(self) -> tuple[Pressure, ...]:
        """The pressures trusted."""
        return self.facts.screened.accepted

    @property
    def water(self) -> WaterBelief:
        """The water over time."""
        return self.facts.water

    @property
    def rise_facts(self) -> RiseFacts:
        """The rise as seen now."""
        return self.facts.rise_facts(self.at_s)

    @property
    def grid(self) -> TemperatureGrid:
        """The cells from cold to hot, with the water that was in the boiler at each."""
        return self.rise_facts.grid

    @property
    def segmented_run(self) -> SegmentedRun:
        """The readings as bounds."""
        return self.rise_facts.segmented_run

    @property
    def posterior(self) -> Posterior:
        """What the readings say about the heat rate."""
        return self.rise_facts.posterior

    @cached_property
    def outlook(self) -> Outlook:
        """Futures from now on."""
        lit_s, last = self.history.lit_s, self.segmented_run.last
        since = last.at_s if last is not None else self.at_s if lit_s is None else lit_s
        silent_s = self.at_s - since
        held = silent_s if self.facts.is_held else held_s(self.history, since, self.at_s)
        held *= 1.0 - HELD_SHARE
        return outlook_from(self.rise_facts.futures, self.at_s, lit_s, held)

    @cached_property
    def gauge_draws_pa(self) -> Array:
        """What the gauge may show now [Pa gauge], one value for each future."""
        return gauge_at(self, self.outlook.now)


def gauge_rise(belief: Belief, from_s: float, to_s: float) -> float:
    """By how much the gauge should have risen between two times at the least [Pa].

    By the pressures called until the first: those after it are what is asked about.
    """
    history = belief.history
    until = tuple(p for p in history.pressures if p.at_s <= from_s)
    acts = Acts(act for act in history.acts if act.at_s <= to_s)
    before = replace(history, pressures=until, acts=acts)
    facts = RunFacts(belief.engine, belief.shared, before)
    then = Belief(belief.engine, to_s, belief.shared, before, facts=facts)
    least = weighted_quantile(then.gauge_draws_pa, then.outlook.weight, LEAST)
    return least - (until[-1].gauge_pa if until else 0.0)


def gauge_at(belief: Belief, position: Array) -> Array:
    """Gauge pressures [Pa] at positions [cells]; 0 below boiling."""
    edges = belief.grid.edges_k
    kelvin = np.interp(position, np.arange(len(edges)), edges)
    return np.maximum(saturation_pressure_abs_pa(kelvin) - belief.engine.atmosphere_pa, 0.0)


def begin(engine: Engine, at_s: float, past: Sequence[EarlierRun] = ()) -> Belief:
    """A belief before anything was reported. past: earlier runs (`learning.past_run`)."""
    shared = learned(engine, past)
    return Belief(engine, at_s, shared, facts=RunFacts(engine, shared, History()))


def mass_kg(belief: Belief) -> float:
    """All water in the boiler now [kg]."""
    return belief.water.mass(belief.at_s)[0]


def predict(belief: Belief, at_s: float) -> Belief:
    """The belief later on, nothing more reported. Unchanged by an earlier time or by NaN."""
    return replace(belief, at_s=at_s) if math.isfinite(at_s) and at_s > belief.at_s else belief


def update(belief: Belief, report: Report, at_s: float) -> Belief:
    """The belief with one report more; unchanged by one that cannot be used.

    A report older than the belief takes its place in the order of time.
    """
    fact = fact_of(belief.engine, report, at_s)
    if fact is None:
        return predict(belief, at_s)
    return _with_history(belief, max(at_s, belief.at_s), belief.history.with_fact(fact))


def _with_history(belief: Belief, at_s: float, history: History) -> Belief:
    facts = belief.facts.with_history(history)
    return replace(belief, at_s=at_s, history=history, facts=facts)


def retracted(belief: Belief, report: Report, at_s: float) -> Belief:
    """The belief as if this report of that time had never been made."""
    fact = fact_of(belief.engine, report, at_s)
    if fact is None:
        return belief
    return _with_history(belief, belief.at_s, belief.history.without(fact))


# --- is a reading likely, is it possible? --------------------------------------------------------

SUDDEN_FALL = 0.4  # of the gauge, within `SUDDEN_WITHIN_S`, from `SUDDEN_FROM` of working on
NO_STEP = 0.06  # of the glass between two calls: half an eighth. Judgement
SUDDEN_DROP = 0.3  # of the glass, within the same time: more than a feed or the steam makes
SUDDEN_WITHIN_S = 150.0
SUDDEN_TIMES = 2.0  # times that; later anything may have happened. Judgement
SUDDEN_FROM = 0.15
FLAT = 0.2  # share of every chance that is uniform, whatever the belief


def chance(belief: Belief, report: Report) -> float | None:
    """How probable a reading is now, to within its rounding step, among all values of its gauge.

    Eight tenths by the belief, two tenths uniform over the dial. None where the belief says nothing
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
        draws, weight = belief.gauge_draws_pa, belief.outlook.weight
        inside = _share_near(draws, weight, fact.gauge_pa, step, blur)
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


def _share_near(draws: Array, weight: Array, middle: float, step: float, blur: float) -> float:
    """Weight of the draws within half a step of the middle, with blurred edges."""
    upper = np.clip((middle + step / 2.0 - draws) / (2.0 * blur) + 0.5, 0.0, 1.0)
    lower = np.clip((middle - step / 2.0 - draws) / (2.0 * blur) + 0.5, 0.0, 1.0)
    return float(np.sum(weight * (upper - lower)))


def _tail(x: float) -> float:
    """Normal probability above x."""
    return 0.5 * math.erfc(x / math.sqrt(2.0))


def objection(belief: Belief, report: Report) -> str | None:
    """Why physics forbids a reading now, in words to be said; None when it does not."""
    fact = fact_of(belief.engine, report, belief.at_s)
    if fact is None:
        return report_fault(belief.engine, report)
    if isinstance(fact, Pressure):
        return _pressure_objection(belief, fact, report)
    if isinstance(fact, Water) and fact.height is not None:
        return _water_objection(belief, fact.height)
    return None


def _water_objection(belief: Belief, height: float) -> str | None:
    """The step of the glass that neither feed, swell nor a leak could make; None when one could.

    A glass that was called the same before makes no step, whatever was expected of it.
    """
    levels = belief.water.levels
    if not levels or levels[-1].height is None:
        return None
    middle, spread = belief.water.shown(belief.at_s)
    fell = levels[-1].height - height if belief.at_s - levels[-1].at_s <= SUDDEN_WITHIN_S else 0.0
    if abs(height - middle) < 0.4 + 2.5 * spread and fell < SUDDEN_DROP:
        return None
    if abs(height - levels[-1].height) <= NO_STEP:
        return None
    minutes = max((belief.at_s - levels[-1].at_s) / 60.0, 1.0)
    plural = "minute" if round(minutes) == 1 else "minutes"
    before, now = 100.0 * levels[-1].height, 100.0 * height
    return f"glass {before:.0f} to {now:.0f} percent in {minutes:.0f} {plural}"


def _pressure_objection(belief: Belief, fact: Pressure, report: Report) -> str | None:
    """The step of the gauge that no fire and no report explains; None when one does."""
    if not belief.accepted:
        return None
    before = belief.accepted[-1]
    trial = belief.history.with_fact(fact).of_this_fire()
    doubted = fact in screened_pressures(belief.engine, trial, belief.grid).doubted
    if not doubted and not _sudden_fall(belief, before, fact):
        return None
    minutes = max((belief.at_s - before.at_s) / 60.0, 1.0)
    plural = "minute" if round(minutes) == 1 else "minutes"
    value = before.gauge_pa / fact.unit_pa
    return f"{round(value, 1):g} to {float(report.value):g} in {minutes:.0f} {plural}"


def _sudden_fall(belief: Belief, before: Pressure, now: Pressure) -> bool:
    """Whether a gauge falls as no use of steam makes it: misheard, or something has let go.

    What may be left after one `SUDDEN_WITHIN_S` may be left of that after the next; with the fire
    called drawn she may be let down by hand, and only the first counts.
    """
    high = before.gauge_pa > SUDDEN_FROM * belief.engine.working_pressure_gauge_pa
    times = (belief.at_s - before.at_s) / SUDDEN_WITHIN_S
    left = (1.0 - SUDDEN_FALL) ** max(times, 1.0)
    most = 1.0 if belief.history.state("fire") == "drawn" else SUDDEN_TIMES
    return high and times <= most and now.gauge_pa < left * before.gauge_pa


def temperature_now_k(belief: Belief, part: float = 0.5) -> float:
    """The water's temperature now [K]: the median, or the quantile `part`."""
    position = weighted_quantile(belief.outlook.now, belief.outlook.weight, part)
    return belief.grid.temperature_k(position)


def temperature_at_k(belief: Belief, at_s: float) -> float:
    """The water's temperature at a time [K], by the accepted pressures."""
    return belief.track.at(at_s)
