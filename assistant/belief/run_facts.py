"""What follows from the reports of one run, computed when first asked for. Knows no present time.

Beliefs at several times share one `RunFacts`, so that time alone costs almost nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from assistant.belief import water_balance
from assistant.belief.futures import Futures, draw_futures
from assistant.belief.gauge_and_valve import GaugeAndValve, compared
from assistant.belief.history import History
from assistant.belief.learning import filled_kg
from assistant.belief.prior import Shared, typical_rate_w
from assistant.belief.rate_fit import Posterior, posterior
from assistant.belief.segments import SegmentedRun, segments_of
from assistant.belief.temperature_grid import TemperatureGrid, edges_k, grid_of
from assistant.belief.temperature_track import (
    ScreenedPressures,
    TemperatureTrack,
    screened_pressures,
    track_of,
)
from assistant.belief.water import WaterBelief
from assistant.boiler.figures import Engine


@dataclass(frozen=True, eq=False)
class RunFacts:
    """What follows from one engine, what was learned of it, and the reports of one run."""

    engine: Engine
    shared: Shared
    history: History
    _rise_facts: dict[float, RiseFacts] = field(default_factory=dict, init=False, repr=False)

    def with_history(self, history: History) -> RunFacts:
        """The same run with other reports; what they do not touch is not computed again."""
        other = RunFacts(self.engine, self.shared, history)
        same: tuple[str, ...] = ()
        if history.acts is self.history.acts and other.filled_kg == self.filled_kg:
            same = ("initial_grid", "full_fire_w", "flows")
            if history.pressures is self.history.pressures:
                same += ("screened", "track")
        vars(other).update((name, vars(self)[name]) for name in same if name in vars(self))
        return other

    @cached_property
    def this_fire(self) -> History:
        """The reports less the needle at rest before the lighting."""
        return self.history.of_this_fire()

    @cached_property
    def gauge_and_valve(self) -> GaugeAndValve:
        """How gauge and valve stand to each other."""
        return compared(self.history, self.engine)

    @cached_property
    def filled_kg(self) -> float:
        """Water at the start [kg]."""
        return filled_kg(self.engine, self.history)

    @cached_property
    def initial_grid(self) -> TemperatureGrid:
        """The cells with the water of the start."""
        return grid_of(self.engine, self.filled_kg)

    @cached_property
    def screened(self) -> ScreenedPressures:
        """Which pressures to trust."""
        return screened_pressures(self.engine, self.this_fire, self.initial_grid)

    @cached_property
    def track(self) -> TemperatureTrack:
        """The water's temperature over time, by the accepted pressures."""
        return track_of(self.engine, self.this_fire, self.initial_grid, self.screened.accepted)

    @cached_property
    def full_fire_w(self) -> float:
        """Heat to the water at full fire [W]."""
        return self.engine.fire_rate_w or 2.0 * typical_rate_w(self.engine, self.initial_grid)

    @cached_property
    def flows(self) -> water_balance.NominalFlows:
        """Feed and steam taken, as reported."""
        return water_balance.nominal_flows(self.engine, self.history, self.full_fire_w)

    @cached_property
    def water(self) -> WaterBelief:
        """The water over time."""
        return WaterBelief(self.engine, self.history, self.track, self.flows, self.filled_kg)

    @cached_property
    def _fed(self) -> bool:
        return any(act.what == "feed" for act in self.history.acts)

    @cached_property
    def is_static(self) -> bool:
        """Whether time alone changes nothing: no feed is on, and silence is no news."""
        silent = self.history.lit_s is not None and not self.screened.accepted
        return self.history.state("feed") != "on" and not silent

    @cached_property
    def is_held(self) -> bool:
        """Whether pressure is held: working pressure was reached, and the last reading is no higher
        than the one before."""
        *_, before, last = (None, None, *self.screened.accepted)
        if before is None or last is None:
            return False
        working_pa = self.engine.working_pressure_gauge_pa
        reached = any(p.gauge_pa >= working_pa for p in self.screened.accepted)
        return reached and last.gauge_pa <= before.gauge_pa + 0.6 * self.history.step_pa

    def rise_facts(self, now_s: float) -> RiseFacts:
        """The rise as seen at a time [s]; the same value as long as time changes nothing."""
        at_s = self.history.last_s if self.is_static else now_s
        if at_s not in self._rise_facts:
            self._rise_facts.clear()
            self._rise_facts[at_s] = RiseFacts(self, at_s)
        return self._rise_facts[at_s]

    def grid_at(self, at_s: float) -> TemperatureGrid:
        """The cells, with the water that was in the boiler when it passed each."""
        track = self.track
        if not self._fed or len(track.time_s) < 2:
            return self.initial_grid
        edges = edges_k(self.engine)
        risen = np.maximum.accumulate(track.kelvin) + 1e-6 * np.arange(len(track.kelvin))
        when = np.interp(edges, risen, track.time_s)
        when = np.where(edges > track.at(at_s), at_s, when)
        return grid_of(self.engine, self.water.masses(when))


@dataclass(frozen=True, eq=False)
class RiseFacts:
    """The rise of a run as seen at one time: the cells, the readings as bounds, and the fit."""

    facts: RunFacts
    at_s: float

    @cached_property
    def grid(self) -> TemperatureGrid:
        """The cells from cold to hot."""
        return self.facts.grid_at(self.at_s)

    @cached_property
    def segmented_run(self) -> SegmentedRun:
        """The readings as bounds."""
        facts = self.facts
        return segments_of(facts.engine, facts.this_fire, self.grid, self.at_s, facts.screened)

    @cached_property
    def posterior(self) -> Posterior:
        """What the readings say about the heat rate."""
        segmented, shared = self.segmented_run, self.facts.shared
        draught = segmented.draught(self.facts.history, shared.typical_draught)
        return posterior(self.grid, shared, segmented.segments, segmented.bounds, draught)

    @cached_property
    def futures(self) -> Futures:
        """Draws of how long each cell takes and where the water was at the last reading."""
        return draw_futures(self.posterior, self.segmented_run.last)
