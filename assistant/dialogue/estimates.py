"""What is believed of the boiler at one moment, each sum worked out when it is first asked for.

Most reports are never asked about: once steam is up nobody waits for a pressure to be believed.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.belief import forecast
from assistant.belief.bands import Band
from assistant.belief.estimate import Belief, temperature_now_k

NEARLY_BOILING_K = 365.0
MAY_BE = 0.8  # the hotter part of what is believed: steam must not come unseen. Judgement


@dataclass(frozen=True)
class LazyEstimates:
    """belief: as it was then; None when nothing is known.

    warm: there is a fire, or a pressure was called; else nothing tells of the pressure. seen: the
    glass was called. fire_in: the fire was lit and is not drawn.
    """

    belief: Belief | None = None
    warm: bool = False
    seen: bool = False
    fire_in: bool = False

    @cached_property
    def pressure(self) -> Band | None:
        """What the gauge showed [Pa gauge]; None where nothing tells."""
        return forecast.pressure(self.belief) if self.belief is not None and self.warm else None

    @cached_property
    def water(self) -> float | None:
        """What the glass showed [fraction of the glass]; None where nothing tells."""
        return forecast.water_middle(self.belief) if self.belief is not None and self.seen else None

    @cached_property
    def near_boiling(self) -> bool:
        """Whether the water may have been near boiling."""
        if self.belief is None or not self.fire_in:
            return False
        return temperature_now_k(self.belief, MAY_BE) >= NEARLY_BOILING_K
