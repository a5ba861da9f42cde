"""What is known of the fire, by report or by a pressure that rises without one. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from assistant.boiler.figures import Engine
from assistant.picture.given import Given
from assistant.picture.heat import BURNING as BURNING
from assistant.picture.heat import PRESSED
from assistant.picture.part import ago, gauge_witness, last_told
from assistant.picture.readings import Reading, pressure_step, pressures, reading_of
from assistant.picture.report_log import ReportLog
from assistant.picture.steam import Steam

FireState = Literal["none", "laid", "lit", "coal", "banked", "drawn", "unknown"]

RISE_STEPS = 2.0  # calling steps: a smaller rise may be the calling
METAL_S = 600.0  # after *drawn*, a rise over less may be heat left in the metal. Judgement
COOLS_S = 180.0  # so long after it was drawn no rise tells anything. Judgement
MUCH = {"dead": 0.08, "drawn": 0.15, "run down": 0.15}  # of working pressure: heat left in the
# metal, with the ash dark or not, lifts it by no more. Judgement
IN = frozenset({"lit", "coal", "banked"})
_STATE_OF: dict[str, FireState] = {
    "none": "none", "laid": "laid", "lit": "lit", "built": "lit", "coal": "coal", "bright": "coal",
    "banked": "banked", "drawn": "drawn", "run down": "drawn", "dead": "drawn",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fire:
    """The fire."""

    value: FireState
    since: float | None
    """When that state began [s]."""
    age_s: float | None
    """How long ago a fire was last told of [s]; None: never."""
    burning: bool
    """Whether a fire is in, or must be taken to be in."""
    heat: bool
    """Whether a fire is in, or pressure stands on the gauge."""
    asks_fire: bool
    """Whether the pressure rises for longer than heat left in the metal explains, after *drawn*, or
    *banked* with the damper shut; or by more, with the ash told to be dark."""
    witnesses: tuple[str, ...]

    @property
    def out(self) -> bool:
        """Whether it was told to be out, and no pressure speaks against that."""
        return self.value == "drawn" and not self.asks_fire


@dataclass(frozen=True, slots=True)
class _Fold:
    value: FireState | None = None
    words: str = ""
    since: float | None = None
    at: float | None = None
    rise: tuple[Reading, Reading] | None = None
    """Two readings, the second higher by two calling steps, since the last report of a fire."""
    long_rise: bool = False


def fire_of(given: Given, steam: Steam) -> Fire:
    """The fire now. Steam without any fire told of means one."""
    fold = given.reports.once("fire", lambda log: _fold(log, given.engine))
    value, burning = _state(given, fold, steam)
    last = pressures(given.reports, given.engine)
    limit = PRESSED * given.engine.working_pressure_gauge_pa
    pressed = bool(last) and (last[-1].value or 0.0) > limit
    asks = _held_back(given, value) and fold.long_rise and pressed
    age_s = None if fold.at is None else given.at - fold.at
    since = fold.since if value == fold.value else None
    return Fire(
        value, since, age_s, burning, burning or pressed, asks, _witnesses(given, fold, asks, steam)
    )


def _held_back(given: Given, value: FireState) -> bool:
    """Whether by what was told no fire should raise the pressure."""
    if value != "banked":
        return value == "drawn"
    damper = last_told(given.reports, "damper")
    return damper is not None and damper.report.value == "shut"


def _state(given: Given, fold: _Fold, steam: Steam) -> tuple[FireState, bool]:
    """The state, and whether a fire is or must be taken to be in."""
    if fold.at is None or fold.value is None:
        seen = steam.value == "steam" or fold.rise is not None
        return ("unknown", True) if seen else ("none", False)
    was_in = fold.value in IN
    if fold.at <= given.forgotten_at:
        return "unknown", was_in or fold.rise is not None
    if fold.value in ("none", "laid") and fold.rise is not None:
        return "unknown", True
    return fold.value, was_in


def _witnesses(given: Given, fold: _Fold, asks: bool, steam: Steam) -> tuple[str, ...]:
    found: list[str] = []
    if fold.at is None:
        found += ["no fire told", *(steam.witnesses if steam.value == "steam" else ())]
    else:
        before = ", before a break" if fold.at <= given.forgotten_at else ""
        found.append(f"fire {fold.words}, {ago(given.at - fold.at)}{before}")
    if fold.rise is not None and (asks or fold.value not in IN | {"drawn"}):
        found += [gauge_witness(reading, given.at) for reading in fold.rise]
    return tuple(found)


def _fold(log: ReportLog, engine: Engine) -> _Fold:
    """The last state told, and whether the pressure has risen since."""
    value: FireState | None = None
    words, since, at = "", None, None
    lowest: Reading | None = None
    last: Reading | None = None
    rise: tuple[Reading, Reading] | None = None
    told_at: Reading | None = None
    doubted = False
    long_rise, least = False, RISE_STEPS * pressure_step(log, engine)
    for timed in log:
        report = timed.report
        if report.what == "fire" and isinstance(report.value, str):
            new = _STATE_OF.get(report.value) or _kept(report.value, value)
            doubted = new == value == "drawn" and (long_rise or doubted)  # said again all the same
            since = since if new == value else timed.at
            value, words, at = new, report.value, timed.at
            lowest, rise, long_rise = None, None, False
            lately = last is not None and timed.at - last.at <= METAL_S
            told_at = last if lately else None  # what it rises from
        elif report.what == "pressure" and (reading := reading_of(timed, engine)) is not None:
            lowest, last = lowest or reading, reading
            from_pa = (told_at or lowest).value or 0.0
            risen = (reading.value or 0.0) - (lowest.value or 0.0)
            if risen <= 0.0:
                lowest = reading
            elif risen >= least * (1.0 - 1e-9):
                rise = rise or (lowest, reading)
                long_rise = long_rise or doubted or reading.at - lowest.at >= METAL_S
            most = MUCH.get(words, math.inf) * engine.working_pressure_gauge_pa
            cooling = at is not None and reading.at - at < COOLS_S
            long_rise = long_rise or (not cooling and (reading.value or 0.0) - from_pa >= most)
    return _Fold(value, words, since, at, rise, long_rise)


def _kept(words: str, before: FireState | None) -> FireState:
    """A fire that somebody stays with, or that burns alone, is what it was; at least banked."""
    if words in BURNING:
        return before if before in IN else "banked"
    return before or "unknown"
