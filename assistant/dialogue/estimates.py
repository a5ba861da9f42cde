"""What the gauges are believed to show, each figure worked out when it is first asked for.

Most reports lead to no such question: once steam is up nobody waits for a believed pressure.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.belief import forecast, water_forecast
from assistant.belief.bands import Band
from assistant.belief.estimate import Belief, temperature_now_k

NEARLY_BOILING_K = 365.0
HOT_QUANTILE = 0.8  # of the believed temperature: steam must not come unseen. Judgement


@dataclass(frozen=True)
class LazyEstimates:
    """The belief at one moment, and which of its figures a report backs up."""

    belief: Belief | None = None
    """The belief as it was then; None when nothing is known."""
    warm: bool = False
    """A fire was lit or a pressure called; otherwise nothing bears on the pressure."""
    glass_read: bool = False
    """The glass was called."""
    fire_in: bool = False
    """The fire was lit and is not drawn."""

    @cached_property
    def pressure(self) -> Band | None:
        """What the gauge shows [Pa gauge]; None where nothing bears on it."""
        return forecast.pressure(self.belief) if self.belief is not None and self.warm else None

    @cached_property
    def water(self) -> float | None:
        """What the glass shows [fraction of the glass]; None where nothing bears on it."""
        if self.belief is None or not self.glass_read:
            return None
        return water_forecast.water_middle(self.belief)

    @cached_property
    def water_cause(self) -> str:
        """By what the glass moves; empty where nothing bears on it."""
        if self.belief is None or not self.glass_read:
            return ""
        return water_forecast.water_trend(self.belief).cause

    @cached_property
    def near_boiling(self) -> bool:
        """Whether the water may be near boiling."""
        if self.belief is None or not self.fire_in:
            return False
        return temperature_now_k(self.belief, HOT_QUANTILE) >= NEARLY_BOILING_K
