"""What follows from the reports of one run, worked out when first asked for. Knows no present time.

Beliefs at several times share one course, so that time alone costs almost nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from assistant.belief import water_balance
from assistant.belief.futures import Futures, futures
from assistant.belief.history import History
from assistant.belief.learning import filled_kg
from assistant.belief.prior import Shared, usual_rate_w
from assistant.belief.rate_fit import Posterior, posterior
from assistant.belief.segments import Rises, rises
from assistant.belief.temperature_grid import Ladder, edges_k, ladder
from assistant.belief.temperature_track import Believed, Warmth, believed_pressures, warmth
from assistant.belief.water import WaterBelief
from assistant.boiler.figures import Engine


@dataclass(frozen=True, eq=False)
class Course:
    """One engine, what was learned of it, and the reports of one run."""

    engine: Engine
    shared: Shared
    history: History
    _ways: dict[float, Way] = field(default_factory=dict, init=False, repr=False)

    def with_history(self, history: History) -> Course:
        """The same run by other reports; what these leave as it was is not worked out again."""
        other = Course(self.engine, self.shared, history)
        same: tuple[str, ...] = ()
        if history.acts is self.history.acts and other.filled_kg == self.filled_kg:
            same = ("first_ladder", "full_w", "passed")
            if history.pressures is self.history.pressures:
                same += ("called", "warmth")
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
    def first_ladder(self) -> Ladder:
        """The way from cold to hot with the water of the start."""
        return ladder(self.engine, self.filled_kg)

    @cached_property
    def called(self) -> Believed:
        """The pressures that stand, and those that are doubted."""
        return believed_pressures(self.engine, self.this_fire, self.first_ladder)

    @cached_property
    def warmth(self) -> Warmth:
        """The water's temperature over time, by the pressures called."""
        return warmth(self.engine, self.this_fire, self.first_ladder, self.called.stand)

    @cached_property
    def full_w(self) -> float:
        """The full fire [W]."""
        return self.engine.fire_rate_w or 2.0 * usual_rate_w(self.engine, self.first_ladder)

    @cached_property
    def passed(self) -> water_balance.Passed:
        """Feed and steam taken, as reported."""
        return water_balance.passed(self.engine, self.history, self.full_w)

    @cached_property
    def water(self) -> WaterBelief:
        """The water over time."""
        return WaterBelief(self.engine, self.history, self.warmth, self.passed, self.filled_kg)

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

    def way(self, now_s: float) -> Way:
        """The way up as it looks at a time [s]; the same one as long as time changes nothing."""
        at_s = self.history.last_s if self.stands else now_s
        if at_s not in self._ways:
            self._ways.clear()
            self._ways[at_s] = Way(self, at_s)
        return self._ways[at_s]

    def ladder_at(self, at_s: float) -> Ladder:
        """The way from cold to hot, with the water that was in the boiler at each cell."""
        track = self.warmth
        if not self._fed or len(track.time_s) < 2:
            return self.first_ladder
        edges = edges_k(self.engine)
        risen = np.maximum.accumulate(track.kelvin) + 1e-6 * np.arange(len(track.kelvin))
        when = np.interp(edges, risen, track.time_s)
        when = np.where(edges > track.at(at_s), at_s, when)
        return ladder(self.engine, self.water.masses(when))


@dataclass(frozen=True, eq=False)
class Way:
    """A course as it looks at one time: the cells, the readings as bounds, and what they say."""

    course: Course
    at_s: float

    @cached_property
    def ladder(self) -> Ladder:
        """The way from cold to hot in cells."""
        return self.course.ladder_at(self.at_s)

    @cached_property
    def rises(self) -> Rises:
        """The readings as bounds."""
        course = self.course
        return rises(course.engine, course.this_fire, self.ladder, self.at_s, course.called)

    @cached_property
    def posterior(self) -> Posterior:
        """What the readings say about the heat rate."""
        found, shared = self.rises, self.course.shared
        blown = found.draught(self.course.history, shared.habit)
        return posterior(self.ladder, shared, found.stretches, found.bounds, blown)

    @cached_property
    def futures(self) -> Futures:
        """How long each cell takes and where the last reading stood, many times drawn."""
        return futures(self.posterior, self.rises.last)
