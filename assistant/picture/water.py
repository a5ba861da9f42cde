"""What is known of the water: level, age, trend, and whether it is to be believed. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.picture.fire import Fire
from assistant.picture.given import Given
from assistant.picture.glass import Glass
from assistant.picture.lost_water import Lost, doubted_since, lost
from assistant.picture.part import water_witness
from assistant.picture.readings import Reading, level_step, waters
from assistant.picture.steam import Steam

WaterState = Literal[
    "known", "old", "doubted", "at the mark", "below the mark", "out of sight", "unproved",
    "glass broken", "never seen",
]  # fmt: skip
Trend = Literal["rising", "steady", "falling", "unknown"]

NEAR_BOILING, COLD_WITH_FIRE = 1.5, 3.0  # times the owner's interval with steam up. Judgement
FIRE_OUT = 3.0  # times the interval where steam is left and the fire is out. Judgement
UNKNOWN_AFTER = 2.0  # intervals: a level older than this is no level
STEAM_GRACE_S = 60.0  # to call the water after steam showed, however old the last call. Judgement
GRAIN = 1e-6  # a level called exactly at the mark is at the mark, whatever its unit
_READ = frozenset({"known", "old", "at the mark", "below the mark"})


@dataclass(frozen=True, slots=True)
class Water:
    """The water."""

    value: WaterState
    level: float | None
    """As last called [of the glass]; None: out of sight, or never called."""
    before: float | None
    """The level called before it [of the glass]."""
    trend: Trend
    """By the last two levels."""
    since: float | None
    """When the last reading was called, or the state began that spoils it [s]."""
    age_s: float | None
    """How old the last reading is [s]; None: never called."""
    interval_s: float | None
    """How often it is wanted by the state of the engine [s]; None: not at all."""
    awaited_since: float | None
    """From when the next reading is awaited: the last one, or what made it wanted later [s]; None
    where none is wanted."""
    old: bool
    """Whether the last reading is older than that, or of a cold boiler and called before a long
    break; whatever else is true of it."""
    known: bool
    """Whether the level is known now."""
    lost: Lost | None
    """When it went out of sight over heat, or the boiler let go or wept; not looked at since."""
    witnesses: tuple[str, ...]
    doubted_since: float | None = None
    """Since when a level is doubted because it came back, whatever else is true of it [s]."""

    @property
    def not_to_be_steamed_since(self) -> float | None:
        """From when the boiler is to be looked at before she is steamed [s]."""
        return None if self.lost is None else self.lost.at

    @property
    def not_to_be_fed_since(self) -> float | None:
        """From when no feed is put on [s]: not where the firebox only weeps."""
        return self.lost.at if self.lost is not None and self.lost.forbids_feed else None

    @property
    def out_of_sight(self) -> bool:
        """Whether none was in sight when it was last called, whatever else is true of the glass."""
        return self.age_s is not None and self.level is None

    @property
    def doubted(self) -> bool:
        """Whether a level shows, and is doubted because it came back."""
        return self.doubted_since is not None and not self.out_of_sight

    @property
    def readable(self) -> bool:
        """Whether the level last called is one, as far as is known."""
        return not self.out_of_sight and not self.doubted


def water_of(given: Given, fire: Fire, steam: Steam, glass: Glass) -> Water:
    """The water now."""
    called = waters(given.reports, given.engine)
    last = called[-1] if called else None
    levels = [r for r in called[-3:] if r.value is not None]
    before = levels[-2].value if last and last.value is not None and len(levels) > 1 else None
    interval_s = _interval_s(given, fire, steam)
    age_s = None if last is None else given.at - last.at
    old = _is_old(given, last, interval_s)
    value = _state(given, last, glass, old)
    stale = interval_s is not None and age_s is not None and age_s > UNKNOWN_AFTER * interval_s
    return Water(
        value,
        None if last is None else last.value,
        before,
        _trend(given, last, before),
        _since(given, value, last, glass),
        age_s,
        interval_s,
        _awaited_since(given, fire, steam, last, interval_s),
        old,
        value in _READ and not stale,
        lost(given.reports, given.engine, given.warm_since),
        _witnesses(given, last, value),
        doubted_since(given.reports, given.engine, given.warm_since),
    )


def _is_old(given: Given, last: Reading | None, interval_s: float | None) -> bool:
    """Older than its interval; where there is none, called before a long break."""
    if last is None:
        return False
    if interval_s is None:
        return last.at <= given.forgotten_at
    return given.at - last.at > interval_s


def _interval_s(given: Given, fire: Fire, steam: Steam) -> float | None:
    interval_s = given.engine.water_interval_s
    at_rest = fire.value == "drawn" and not fire.heat and given.conflict is None
    if at_rest:
        return None
    if steam.value == "steam":
        cools = fire.out and given.conflict is None
        return FIRE_OUT * interval_s if cools else interval_s
    if fire.burning and given.conflict is not None:
        return interval_s  # that the gauge rests is no proof of a cold boiler
    if steam.value == "near boiling":
        return NEAR_BOILING * interval_s
    return COLD_WITH_FIRE * interval_s if fire.burning else None


def _awaited_since(
    given: Given, fire: Fire, steam: Steam, last: Reading | None, interval_s: float | None
) -> float | None:
    """Counted from the lighting of the fire and the end of a break where these are later than the
    last reading. With the first steam the lighting counts no more, and there is a moment to call
    it, unless it was overdue before.
    """
    if interval_s is None:
        return None
    later = [0.0 if last is None else last.at, *(ended for _, ended in given.breaks[-1:])]
    if last is None:
        later.append(steam.since or fire.since or 0.0)
    called, lit_at = max(later), given.reports.lit_at or 0.0
    since = max(called, lit_at) if steam.since is None or steam.since > lit_at else called
    in_time = steam.since is not None and steam.since <= since + COLD_WITH_FIRE * interval_s
    graced = (steam.since or 0.0) + STEAM_GRACE_S - interval_s
    return max(called, graced) if in_time else since


def _state(given: Given, last: Reading | None, glass: Glass, old: bool) -> WaterState:
    """The gravest of what is true of the last reading."""
    if glass.value == "broken":
        return "glass broken"
    if last is None:
        return "never seen"
    if last.value is None:
        return "out of sight"
    if glass.reads_from is None or last.at < glass.reads_from:
        return "unproved"
    if doubted_since(given.reports, given.engine, given.warm_since) is not None:
        return "doubted"
    mark = given.engine.glass.lower_mark
    if last.value <= mark + GRAIN:
        return "at the mark" if last.value >= mark - GRAIN else "below the mark"
    return "old" if old else "known"


def _trend(given: Given, last: Reading | None, before: float | None) -> Trend:
    """A move of half a calling step or more is a move."""
    if last is None or last.value is None or before is None:
        return "unknown"
    least = 0.5 * level_step(given.reports, given.engine)
    if abs(last.value - before) < least:
        return "steady"
    return "rising" if last.value > before else "falling"


def _since(given: Given, value: WaterState, last: Reading | None, glass: Glass) -> float | None:
    if value in ("glass broken", "unproved"):
        return glass.since if glass.reads_from is None else glass.reads_from
    if value == "doubted":
        return doubted_since(given.reports, given.engine, given.warm_since)
    return None if last is None else last.at


def _witnesses(given: Given, last: Reading | None, value: WaterState) -> tuple[str, ...]:
    found = () if last is None else (water_witness(last, given.at),)
    reasons = {
        "glass broken": "glass broken",
        "unproved": "the glass is not proved",
        "doubted": "it came back after it was out of sight",
    }
    return (*found, reasons[value]) if value in reasons else found
