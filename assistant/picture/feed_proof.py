"""Whether two readings of the glass prove a feed: yes, no, or not yet to be told. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.picture.readings import Reading
from assistant.picture.report_log import Movement

Proof = Literal["yes", "no", "not yet"]

ENOUGH = 0.5  # of what was expected: rounding, use, a worn pump. Judgement
TELL_S = 240.0  # a feed of unknown delivery must have shown a gain by then. Judgement
GRAIN = 1e-6


@dataclass(frozen=True, slots=True)
class Window:
    """Two levels and what happened between them, heights in fractions of the glass."""

    moved: float
    """By how much the second stands over the first."""
    running_s: float
    """How long the feed ran [s]."""
    expansion: float | None
    """What temperature alone should have done; None: not known."""
    used: float
    """What steam taken should have taken."""
    step: float
    """The step in which levels are called."""
    per_s: float | None
    """What the feed delivers in a second; None: not known."""


def judge(window: Window) -> Proof:
    """The outcome over a window that begins where the feed began.

    A gain that cannot be told from expansion proves nothing.
    """
    if stands_still(window):
        return "no"
    if window.expansion is None:
        return "not yet"
    gain = window.moved - window.expansion
    expected = _expected(window)
    if expected is None:
        if gain >= window.step - GRAIN and window.moved > GRAIN:
            return "yes"
        return "no" if gain <= GRAIN and window.running_s >= TELL_S else "not yet"
    if expected < window.step - GRAIN:
        return "not yet"
    return "yes" if gain >= ENOUGH * expected - GRAIN else "no"


def stands_still(window: Window) -> bool:
    """Whether the level is equal or lower though a gain should have shown by now."""
    if window.moved > GRAIN:
        return False
    expected = _expected(window)
    if expected is None:
        return window.running_s >= TELL_S
    return expected + min(window.expansion or 0.0, 0.0) >= window.step - GRAIN


def tells_after_s(step: float, per_s: float | None) -> float:
    """How long a feed has to run before a reading tells [s]."""
    return TELL_S if per_s is None else step / per_s


def lowest_before_a_gain(
    levels: tuple[Reading, ...], now: Reading, step: float, expansion: Movement
) -> int | None:
    """Which of the levels was the lowest, where readings since then show a gain; None: none does.

    A calling step over it, or two rises running of half a step together, beyond expansion.
    """
    known = [(level.value, -place) for place, level in enumerate(levels) if level.value is not None]
    if not known or now.value is None:
        return None
    value, place = min(known)
    low = levels[-place]
    gain = now.value - value - max(expansion(low.at, now.at) or 0.0, 0.0)
    between = [level.value for level in levels[-place + 1 :] if level.value is not None]
    rises = bool(between) and value < between[-1] < now.value
    least = 0.5 * step if rises else step
    return -place if gain >= least - GRAIN else None


def _expected(window: Window) -> float | None:
    """What the feed should have added, less use [of the glass]."""
    return None if window.per_s is None else window.per_s * window.running_s - window.used
