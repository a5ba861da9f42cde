"""Whether the pressure gauge is believed. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from assistant.picture.given import Given
from assistant.picture.heat import MOVING, VENT_STEAM
from assistant.picture.part import ago, gauge_witness, last_told
from assistant.picture.readings import pressures, reading_of
from assistant.picture.report_log import ReportLog
from assistant.picture.steam import Steam
from assistant.picture.still_gauge import still_since

GaugeState = Literal["believed", "doubted", "in conflict"]

MOVED = 0.015  # of working pressure: below it the needle has not left its pin
STEAM_SHOWS_S = 180.0  # after steam was seen the gauge must show some. Judgement
TOLD_WRONG, TOLD_RIGHT = ("cure", "gauge_trouble"), ("gauge trouble", "cured")
UNDER_FEATHER = 0.9  # of the feather: called lower, a moving valve contradicts it
INTERVALS = 2.0  # the pressure is called half as often as the water


@dataclass(frozen=True, slots=True)
class Gauge:
    """The pressure gauge."""

    value: GaugeState
    pressure_pa: float | None
    """As last called [Pa gauge]; None: never."""
    before_pa: float | None
    """The reading before it [Pa gauge]."""
    age_s: float | None
    """How old the last reading is [s]; None: never called."""
    moved: bool
    """Whether the needle has left its pin by the last reading."""
    old: bool
    """Whether a reading is wanted, by steam and age."""
    witnesses: tuple[str, ...]
    conflict: Literal["danger", "warning"] | None = None
    """How grave its contradiction with the valve is; None: there is none."""
    conflict_since: float | None = None
    """From when that stands [s]."""
    unread_since: float | None = None
    """When the valve began to move over a gauge not called near it [s]; None: nothing is open."""
    still_since: float | None = None
    """From when it stands still over a fire that should move it [s]; None: it does not."""
    told_wrong_since: float | None = None
    """From when it was told to be wrong or stuck [s]; None: not, or told right since, or read where
    the valve moved."""


def gauge_of(given: Given, steam: Steam) -> Gauge:
    """The gauge now."""
    called = pressures(given.reports, given.engine)
    if not called:
        old = _overdue(given, steam, steam.since)
        return _with_valve(given, Gauge(_state(given, False), None, None, None, False, old, ()))
    last, before = called[-1], called[-2] if len(called) > 1 else None
    pressure = last.value or 0.0
    moved = pressure >= MOVED * given.engine.working_pressure_gauge_pa
    against = _against(given, pressure, last.at, moved)
    witnesses = (gauge_witness(last, given.at), *((against,) if against else ()))
    gauge = Gauge(
        _state(given, not against),
        pressure,
        before.value if before is not None else None,
        given.at - last.at,
        moved,
        _overdue(given, steam, last.at if steam.since is None else max(steam.since, last.at)),
        witnesses,
    )
    return _with_valve(given, gauge)


def _with_valve(given: Given, gauge: Gauge) -> Gauge:
    """With how it stands to the valve."""
    return replace(
        gauge,
        conflict=given.conflict,
        conflict_since=given.conflict_since,
        unread_since=given.unread_since,
        still_since=still_since(given),
        told_wrong_since=given.reports.once("gauge wrong", lambda log: _told_wrong(log, given)),
    )


def _told_wrong(log: ReportLog, given: Given) -> float | None:
    since: float | None = None
    moves = False
    low = UNDER_FEATHER * given.engine.valve_moves_gauge_pa
    for timed in log:
        told = timed.report.what, timed.report.value
        if told == TOLD_WRONG:
            since = timed.at if since is None else since
        elif told == TOLD_RIGHT:
            since = None
        elif told[0] == "valve":
            moves = told[1] in MOVING
        elif told[0] == "pressure" and moves:
            reading = reading_of(timed, given.engine)
            agrees = reading is not None and (reading.value or 0.0) >= low
            since = None if agrees else since
    return since


def _state(given: Given, believed: bool) -> GaugeState:
    if given.conflict is not None:
        return "in conflict"
    return "believed" if believed else "doubted"


def _against(given: Given, pressure: float, called_at: float, moved: bool) -> str:
    """What speaks against the last reading; empty for nothing."""
    valve, vent = last_told(given.reports, "valve"), last_told(given.reports, "vent")
    if valve is not None and valve.report.value in MOVING and not given.conflict:
        under = pressure < UNDER_FEATHER * given.engine.valve_moves_gauge_pa
        if under and called_at < valve.at:
            return f"valve {valve.report.value}, {ago(given.at - valve.at)}"
    steam_seen = vent is not None and vent.report.value in VENT_STEAM
    if steam_seen and vent is not None and not moved and called_at >= vent.at + STEAM_SHOWS_S:
        return f"vent blows steam, {ago(given.at - vent.at)}"
    if given.conflict is not None:
        return "the valve contradicts it"
    return ""


def _overdue(given: Given, steam: Steam, awaited_since: float | None) -> bool:
    """Whether a reading has been wanted for longer than two intervals."""
    if steam.value != "steam" or awaited_since is None:
        return False
    return given.at - awaited_since > INTERVALS * given.engine.water_interval_s
