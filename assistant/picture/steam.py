"""Whether there is steam, by the best witness. Pure.

A gauge at zero does not outweigh a valve that lifts: a witness stands until she is cold again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.boiler.figures import Engine
from assistant.boiler.glass import shown_for, water_shown_kg
from assistant.messages import Report
from assistant.picture.given import Given
from assistant.picture.heat import MOVING, OUT, PRESSED, VENT_STEAM
from assistant.picture.lost_water import is_looked_at
from assistant.picture.part import ago
from assistant.picture.readings import Reading, level_step, pressures, reading_of
from assistant.picture.report_log import ReportLog

SteamState = Literal["cold", "near boiling", "steam"]

AHEAD = 0.1  # of working pressure: no needle off its pin, and no air shut in, shows so much
COLD_CALLS = 2  # gauge calls at rest, with the fire out
COLD_K, BOILING_K = 288.15, 373.15  # fed cold, and boiling in the open air
CLEAR_STEPS = 1.5  # calling steps: a smaller rise of the glass may be the calling
WARM = "taken over warm"


@dataclass(frozen=True, slots=True)
class Steam:
    """The steam."""

    value: SteamState
    since: float | None
    """From when there was steam [s]."""
    age_s: float | None
    """How old the newest witness is [s]; None: there is none."""
    ahead: bool
    """Whether two witnesses, or a gauge of a tenth of working pressure, show steam."""
    cold_again: bool
    """Whether there was steam, and the fire is out and the gauge at rest."""
    witnesses: tuple[str, ...]
    high: bool = False
    """Whether the gauge alone shows a tenth of working pressure."""


@dataclass(frozen=True, slots=True)
class _Fold:
    witnesses: tuple[tuple[str, float], ...] = ()
    """What shows steam, and when it last did."""
    since: float | None = None
    cold_since: float | None = None
    spans: tuple[tuple[float, float], ...] = ()
    """When there was steam: from, to."""


def steam_of(given: Given) -> Steam:
    """The steam now."""
    fold = _folded(given)
    called = pressures(given.reports, given.engine)
    gauge = called[-1].value if called else None
    high = gauge is not None and gauge >= AHEAD * given.engine.working_pressure_gauge_pa
    witnesses = tuple(f"{name}, {ago(given.at - at)}" for name, at in fold.witnesses)
    if fold.witnesses:
        newest = max(at for _, at in fold.witnesses)
        ahead = high or len(fold.witnesses) >= 2
        return Steam("steam", fold.since, given.at - newest, ahead, False, witnesses, high)
    again = fold.cold_since is not None
    if given.near_boiling:
        return Steam("near boiling", None, None, False, again, ("near boiling by reckoning",))
    return Steam("cold", fold.cold_since, None, False, again, ("nothing shows steam",))


def had_steam(given: Given, at: float) -> bool:
    """Whether there was steam at a moment [s]."""
    fold = _folded(given)
    now = fold.since is not None and at >= fold.since
    return now or any(began <= at < ended for began, ended in fold.spans)


def _folded(given: Given) -> _Fold:
    warm = given.warm_since
    return given.reports.once(f"steam {warm}", lambda log: _fold(log, given.engine, warm))


def _fold(log: ReportLog, engine: Engine, warm: float | None) -> _Fold:
    following = _Following(engine, level_step(log, engine), warm)
    for timed in log:
        reading = reading_of(timed, engine) if timed.report.what in ("pressure", "water") else None
        following.hear(timed.report, timed.at, reading)
    return following.result()


class _Following:
    """The witnesses as far as the reports have come."""

    def __init__(self, engine: Engine, step: float, warm: float | None) -> None:
        self._engine, self._clear = engine, CLEAR_STEPS * step
        self._rest_pa = PRESSED * engine.working_pressure_gauge_pa
        self._found: dict[str, float] = {} if warm is None else {WARM: warm}
        self._since = warm
        self._cold_since: float | None = None
        self._spans: list[tuple[float, float]] = []
        self._out, self._rests = False, 0
        self._gauge_pa = 0.0
        self._dead_gauge = False
        self._level: float | None = None  # the last one called
        self._cold_level: float | None = None  # the one from which warming lifts it
        self._lit_unread = False  # lit, and no level called before it

    def result(self) -> _Fold:
        return _Fold(tuple(self._found.items()), self._since, self._cold_since, tuple(self._spans))

    def hear(self, report: Report, at: float, reading: Reading | None) -> None:
        """The next report."""
        match report.what:
            case "pressure" if reading is not None:
                self._gauge_called(reading.value or 0.0, at)
            case "water":
                self._level_called(None if reading is None else reading.value, at)
            case "valve" if report.value in MOVING:
                self._dead_gauge = self._gauge_pa < self._rest_pa
                self._show("valve moved", at)
            case "vent" if report.value in VENT_STEAM:
                self._show("vent blows steam", at)
            case "fire":
                self._fire_told(report)
            case "feed" | "bypass" if report.value in ("on", "shut"):
                self._cold_level, self._lit_unread = None, False
            case "boiler" if is_looked_at(report):
                self._dead_gauge = False

    def _show(self, name: str, at: float) -> None:
        if not self._found:
            self._since, self._cold_since = at, None
        self._found[name] = at
        self._rests = 0

    def _gauge_called(self, gauge_pa: float, at: float) -> None:
        self._gauge_pa = gauge_pa
        if gauge_pa >= self._rest_pa:
            self._dead_gauge = False
            self._show("gauge", at)
            return
        self._rests += 1
        cold = self._out and self._rests >= COLD_CALLS and not self._dead_gauge
        if cold and self._found:
            self._spans.append((self._since or 0.0, at))
            self._found, self._since, self._cold_since = {}, None, at
            self._cold_level = None

    def _fire_told(self, report: Report) -> None:
        was_out, self._out = self._out, report.value in OUT
        if self._out and not was_out:
            self._rests = 0
        if report.value in ("lit", "built") and self._cold_level is None and not self._found:
            self._cold_level, self._lit_unread = self._level, self._level is None

    def _level_called(self, level: float | None, at: float) -> None:
        self._level = level
        if self._lit_unread and level is not None:
            self._cold_level, self._lit_unread = level, False
        cold = self._cold_level
        if level is None or cold is None or self._out:
            return
        kg = water_shown_kg(self._engine, cold, COLD_K)
        boiling = shown_for(self._engine, kg, BOILING_K) - cold
        if level - cold >= max(boiling, self._clear) - 1e-9:
            self._show("glass expanded as at boiling", at)
