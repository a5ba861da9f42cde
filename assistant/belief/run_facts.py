"""What follows from the reports of one run, worked out when first asked for. Knows no present time.

Beliefs at several times share one course, so that time alone costs almost nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from assistant.belief import water_balance
from assistant.belief.futures import Futures, draw_futures
from assistant.belief.history import History
from assistant.belief.learning import filled_kg
from assistant.belief.prior import Shared, usual_rate_w
from assistant.belief.rate_fit import Posterior, posterior
from assistant.belief.segments import Segments, segments_of
from assistant.belief.temperature_grid import TemperatureGrid, edges_k, grid_of
from assistant.belief.temperature_track import (
    StandingPressures,
    TemperatureTrack,
    believed_pressures,
    track_of,
)
from assistant.belief.water import WaterBelief
from assistant.boiler.figures import Engine


@dataclass(frozen=True, eq=False)
class RunFacts:
    """One engine, what was learned of it, and the reports of one run."""

    engine: Engine
    shared: Shared
    history: History
    _ways: dict[float, RiseFacts] = field(default_factory=dict, init=False, repr=False)

    def with_history(self, history: History) -> RunFacts:
        """The same run by other reports; what these leave as it was is not worked out again."""
        other = RunFacts(self.engine, self.shared, history)
        same: tuple[str, ...] = ()
        if history.acts is self.history.acts and other.filled_kg == self.filled_kg:
            same = ("first_grid", "full_w", "passed")
            if history.pressures is self.history.pressures:
                same += ("called", "track")
        vars(other).update((name, vars(self)[name]) for name in same if name in vars(self))
        return other

    @cached_property
    def this_fire(self) -> History:
        """The reports less the needle at rest before the lighting."""
        return self.history.of_this_fire()

    @cached_property
    def filled_kg(self) -> float:
        """Water at the start [kg]."""
        return filled_kg(self.engine, self.history)

    @cached_property
    def first_grid(self) -> TemperatureGrid:
        """The way from cold to hot with the water of the start."""
        return grid_of(self.engine, self.filled_kg)

    @cached_property
    def called(self) -> StandingPressures:
        """The pressures that stand, and those that are doubted."""
        return believed_pressures(self.engine, self.this_fire, self.first_grid)

    @cached_property
    def track(self) -> TemperatureTrack:
        """The water's temperature over time, by the pressures called."""
        return track_of(self.engine, self.this_fire, self.first_grid, self.called.stand)

    @cached_property
    def full_w(self) -> float:
        """The full fire [W]."""
        return self.engine.fire_rate_w or 2.0 * usual_rate_w(self.engine, self.first_grid)

    @cached_property
    def passed(self) -> water_balance.Passed:
        """Feed and steam taken, as reported."""
        return water_balance.passed(self.engine, self.history, self.full_w)

    @cached_property
    def water(self) -> WaterBelief:
        """The water over time."""
        return WaterBelief(self.engine, self.history, self.track, self.passed, self.filled_kg)

    @cached_property
    def _fed(self) -> bool:
        return any(act.what == "feed" for act in self.history.acts)

    @cached_property
    def stands(self) -> bool:
        """Whether time alone changes nothing: no feed is on, and silence says nothing new."""
        silent = self.history.lit_s is not None and not self.called.stand
        return self.history.state("feed") != "on" and not silent

    @cached_property
    def holds(self) -> bool:
        """Whether she is held: once at working pressure, and no rise between the last two calls."""
        *_, before, last = (None, None, *self.called.stand)
        if before is None or last is None:
            return False
        full_pa = self.engine.working_pressure_gauge_pa
        been = any(p.gauge_pa >= full_pa for p in self.called.stand)
        rise_pa = 0.6 * self.history.step_pa
        return been and last.gauge_pa <= before.gauge_pa + rise_pa

    def rise_facts(self, now_s: float) -> RiseFacts:
        """The way up as it looks at a time [s]; the same one as long as time changes nothing."""
        at_s = self.history.last_s if self.stands else now_s
        if at_s not in self._ways:
            self._ways.clear()
            self._ways[at_s] = RiseFacts(self, at_s)
        return self._ways[at_s]

    def ladder_at(self, at_s: float) -> TemperatureGrid:
        """The way from cold to hot, with the water that was in the boiler at each cell."""
        track = self.track
        if not self._fed or len(track.time_s) < 2:
            return self.first_grid
        edges = edges_k(self.engine)
        risen = np.maximum.accumulate(track.kelvin) + 1e-6 * np.arange(len(track.kelvin))
        when = np.interp(edges, risen, track.time_s)
        when = np.where(edges > track.at(at_s), at_s, when)
        return grid_of(self.engine, self.water.masses(when))


@dataclass(frozen=True, eq=False)
class RiseFacts:
    """A course as it looks at one time: the cells, the readings as bounds, and what they say."""

    facts: RunFacts
    at_s: float

    @cached_property
    def grid(self) -> TemperatureGrid:
        """The way from cold to hot in cells."""
        return self.facts.ladder_at(self.at_s)

    @cached_property
    def rises(self) -> Segments:
        """The readings as bounds."""
        facts = self.facts
        return segments_of(facts.engine, facts.this_fire, self.grid, self.at_s, facts.called)

    @cached_property
    def posterior(self) -> Posterior:
        """What the readings say about the heat rate."""
        found, shared = self.rises, self.facts.shared
        blown = found.draught(self.facts.history, shared.habit)
        return posterior(self.grid, shared, found.stretches, found.bounds, blown)

    @cached_property
    def futures(self) -> Futures:
        """How long each cell takes and where the last reading stood, many times drawn."""
        return draw_futures(self.posterior, self.rises.last)
