"""What was called of an engine, as somebody careful keeps it in mind. Knows reports and file."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.messages import Report
from assistant.simulator.practice_trim import full_fire_w

_IN_MIND_S = 2400.0  # readings of the glass that still count, as they stand in the log; judgement
_UNWATCHED_S = 600.0
STEP = 0.125  # the glass is called in eighths, or thereabouts
_FULL_GLASS_BY_PUMP_S = 1800.0  # where the file tells no delivery; common practice, no source
# The most that is taken, in parts of the evaporation at full fire; judgement. Standing has the
# blower at a crack and a valve that simmers untold; a valve that lifts passes all that a full fire
# makes, and for a while what the hot water gives besides.
_STANDING, _WORKING, _FEATHERING, _LIFTING = 0.2, 0.3, 0.3, 2.0
_EVAPORATION_J_PER_KG = 2.05e6

Reading = tuple[float, float]  # when [s], and its number


@dataclass(frozen=True)
class Called:
    """The reports of a day, in order, with their times [s]."""

    engine: Engine
    reports: Sequence[tuple[float, Report]]

    def readings(self, what: str) -> list[Reading]:
        """The numbers of a gauge; water out of sight counts as at the bottom."""
        called: list[Reading] = []
        for at, report in self.reports:
            if report.what == what and not isinstance(report.value, str):
                called.append((at, float(report.value)))
            elif (report.what, report.value) == (what, "out of sight"):
                called.append((at, 0.0))
        return called

    def pressures(self) -> list[Reading]:
        """Gauge readings in psi."""
        units = {"psi": 1.0, "bar": 1e5 / PSI_PA, "kPa": 1e3 / PSI_PA, "kgf/cm2": 98066.5 / PSI_PA}
        return [
            (at, float(report.value) * units.get(report.unit or "psi", 1.0))
            for at, report in self.reports
            if report.what == "pressure" and not isinstance(report.value, str)
        ]

    def pressure_at(self, at: float) -> Reading | None:
        """The last gauge reading until then."""
        return next((each for each in reversed(self.pressures()) if each[0] <= at), None)

    def states(self, what: str, *values: str) -> list[float]:
        """When something was called to be so."""
        return [at for at, r in self.reports if r.what == what and r.value in values]

    def state(self, what: str, at: float) -> str | None:
        """What was last called of it until then."""
        for then, report in reversed(self.reports):
            if then <= at and report.what == what:
                return str(report.value)
        return None

    def since(self, what: str, values: Collection[str], at: float) -> float | None:
        """From when on it has been called nothing else than one of these; None: it is not so."""
        since = None
        for then, report in self.reports:
            if then > at:
                break
            if report.what == what:
                since = (then if since is None else since) if report.value in values else None
        return since

    def never(self, what: str, values: Collection[str], begin: float, end: float) -> bool:
        """It was called none of these, before or during the time."""
        if self.state(what, begin) in values:
            return False
        return not any(begin < at <= end for at in self.states(what, *values))

    @cached_property
    def _feeding(self) -> list[tuple[float, float]]:
        """From when until when a feed was on [s]."""
        spans: list[tuple[float, float]] = []
        now, since = {"feed": "", "bypass": ""}, None
        for at, report in self.reports:
            if report.what not in now:
                continue
            now[report.what] = str(report.value)
            is_on = now["feed"] == "on" or now["bypass"] == "shut"
            if is_on and since is None:
                since = at
            elif not is_on and since is not None:
                spans.append((since, at))
                since = None
        return spans if since is None else [*spans, (since, math.inf)]

    def watched(self, begin: float, end: float) -> bool:
        """Something was called at least every ten minutes between."""
        times = [begin, *(at for at, _ in self.reports if begin < at < end), end]
        return all(later - earlier <= _UNWATCHED_S for earlier, later in pairwise(times))

    def unfed(self, begin: float, end: float) -> bool:
        """No feed was on at any time between."""
        return not any(on <= end and off > begin for on, off in self._feeding)

    def fed_s(self, begin: float, end: float) -> float:
        """How long a feed was on between [s]."""
        return sum(max(min(off, end) - max(on, begin), 0.0) for on, off in self._feeding)

    @property
    def _glass_m3(self) -> float:
        litres = [litre for _, litre in self.engine.glass.points]
        return (litres[-1] - litres[0]) / 1000.0

    def gain_wanted(self, begin: float, end: float) -> float:
        """What the feed should bring between, less what steam takes [part of the glass]."""
        pump = self.engine.pump_m3_per_s or self._glass_m3 / _FULL_GLASS_BY_PUMP_S
        return pump * self.fed_s(begin, end) / self._glass_m3 - self.use(begin, end)

    def use(self, begin: float, end: float) -> float:
        """What steam may take at most between [part of the glass]."""
        full_m3_per_s = full_fire_w(self.engine) / _EVAPORATION_J_PER_KG / 950.0
        spent_s = _STANDING * (end - begin)
        spent_s += _WORKING * self.seconds_of("regulator", "open", begin, end)
        spent_s += _FEATHERING * self.seconds_of("valve", "feathering", begin, end)
        spent_s += _LIFTING * self.seconds_of("valve", "lifting", begin, end)
        return full_m3_per_s * spent_s / self._glass_m3

    def seconds_of(self, what: str, value: str, begin: float, end: float) -> float:
        """For how long between two times it was called so [s]."""
        told = [(at, str(r.value)) for at, r in self.reports if r.what == what]
        told.append((math.inf, ""))
        return sum(
            max(min(until, end) - max(at, begin), 0.0)
            for (at, state), (until, _) in pairwise(told)
            if state == value
        )

    def water_pairs(self) -> Iterator[tuple[Reading, Reading]]:
        """Every reading of the glass with those before it that are still in mind."""
        water = self.readings("water")
        for place, later in enumerate(water):
            for earlier in water[:place]:
                if later[0] - earlier[0] <= _IN_MIND_S:
                    yield earlier, later
