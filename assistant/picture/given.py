"""What the picture is made from: engine, report log, time and a few estimates. Values only.

Knows no belief and no session; whoever has them hands these values over.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from assistant.boiler.figures import Engine
from assistant.picture.report_log import Movement, ReportLog

LONG_BREAK_S = 900.0  # a state told before a longer break is not known any more. Judgement


def unknown_movement(from_s: float, to_s: float) -> float | None:
    """Nothing is known of it."""
    return None


def no_movement(from_s: float, to_s: float) -> float | None:
    """None at all."""
    return 0.0


@dataclass(frozen=True)
class Given:
    """One moment. Times in seconds since the session began.

    Folds are cached with the report log: `expansion` and `use` are taken from the first picture
    that is made after a report, so the estimates must have heard the report by then.
    """

    engine: Engine
    """The engine's figures."""
    reports: ReportLog
    """Every report that is believed."""
    at: float
    """Now [s]."""
    near_boiling: bool = False
    """Whether the water is near boiling or over it, by belief."""
    expansion: Movement = unknown_movement
    """What temperature alone should have done to the level, rising above 0 [of the glass]."""
    use: Movement = no_movement
    """By how much steam taken should have lowered the level [of the glass]."""
    rise: Movement = unknown_movement
    """By how much the gauge should have risen at the least, by what was called until the first of
    two times [Pa]; of a later call nothing counts."""
    conflict: Literal["danger", "warning"] | None = None
    """How grave the contradiction of gauge and valve is that stands."""
    conflict_since: float | None = None
    """From when that stands [s]."""
    unread_since: float | None = None
    """When the valve began to move over a gauge that was not called near it [s]."""
    agreed: bool = False
    """Whether gauge and moving valve have agreed today."""
    warm_since: float | None = None
    """When a warm engine was taken over [s]."""
    breaks: tuple[tuple[float, float], ...] = ()
    """Gaps in the session: began, ended [s], in order."""
    heard_at: float = 0.0
    """When the person was last understood [s]."""
    hears: bool = True
    """Whether he would be heard: microphone there, no great noise, no three misses in a row."""
    hears_since: float = 0.0
    """From when he would be heard again, after we did not hear [s]."""
    watch: str = ""
    """The name of the person on watch; empty: not known."""

    @cached_property
    def long_breaks(self) -> tuple[float, ...]:
        """When each break began that was long enough to make states unknown [s]."""
        return tuple(began for began, ended in self.breaks if ended - began > LONG_BREAK_S)

    @property
    def break_ended_at(self) -> float:
        """When the last break ended [s]; 0 where there was none."""
        return self.breaks[-1][1] if self.breaks else 0.0

    @cached_property
    def forgotten_at(self) -> float:
        """States reported up to here are unknown now [s]."""
        return self.long_breaks[-1] if self.long_breaks else float("-inf")
