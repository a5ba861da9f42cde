"""Which practice faults have begun, and when. Knows pressure and time, nothing of what they do."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from assistant.simulator.practice_faults import FAULTS_AT_ONCE, FROM_COLD, onset_s


class FaultClock(AbstractSet[str]):
    """The set of those faults that have begun.

    Some are there from cold, some begin with the pressure at which faults begin, the others within
    ten minutes of it, by the seed.
    """

    def __init__(self, faults: AbstractSet[str], seed: int, begins_gauge_pa: float) -> None:
        self._faults = faults
        self._begins_gauge_pa = begins_gauge_pa
        self._onset_s = onset_s(seed)
        self.trouble_at: float | None = None
        """When the faults of the seed's time begin [s]; known on healthy days, too."""
        self.begun: dict[str, float] = dict.fromkeys(sorted(faults & FROM_COLD), 0.0)
        """When each began [s]."""

    def advance(self, at_s: float, gauge_pa: float) -> frozenset[str]:
        """Time has come to at_s [s], pressure to gauge_pa [Pa gauge]: which have just begun."""
        due: set[str] = set()
        if gauge_pa >= self._begins_gauge_pa:
            due |= self._faults & FAULTS_AT_ONCE
            if self.trouble_at is None:
                self.trouble_at = at_s + self._onset_s
        if self.trouble_at is not None and at_s >= self.trouble_at:
            due |= self._faults - FAULTS_AT_ONCE
        new = frozenset(due - self.begun.keys())
        self.begun.update(dict.fromkeys(sorted(new), at_s))
        return new

    def __contains__(self, name: object) -> bool:
        return name in self.begun

    def __iter__(self) -> Iterator[str]:
        return iter(self.begun)

    def __len__(self) -> int:
        return len(self.begun)
