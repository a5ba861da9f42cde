"""What the decision about an utterance may consult, all of it. A value; decides nothing."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from assistant.messages import Expected, Report
from assistant.understanding.meanings import Care, MarkOf, no_mark
from assistant.understanding.retries import Evidence

Chance = Callable[[Report], float | None]
Objection = Callable[[Report], str | None]


def no_chance(report: Report) -> float | None:
    """Without a boiler every report is as probable as its sound."""
    return None


def no_objection(report: Report) -> str | None:
    """Without a boiler nothing is objected to."""
    return None


@dataclass(frozen=True, slots=True)
class Context:
    """The moment in which something is heard. The defaults are those of an ear without a session:
    no boiler, no note, no wake phrase. Times are in seconds since the session began."""

    expected: Expected = field(default_factory=Expected)
    """What is listened for."""
    chance: Chance = no_chance
    """The probability of a report by the belief; None where it has no opinion."""
    objection: Objection = no_objection
    """Why a report contradicts the belief, if it does."""
    limits: Objection = no_objection
    """Why no gauge of this engine can show a report, if none can."""
    care: Care = Care.USUAL
    """How careful the situation requires one to be."""
    mark_of: MarkOf = no_mark
    """Where a height of the water stands to the engine's marks."""
    doubted: Report | None = None
    """The reading that was just asked about; when it is repeated, the belief's objection no longer
    counts."""
    denied: tuple[Report, ...] = ()
    """What the operator last called wrong."""
    denied_at: float = -math.inf
    """When it was called wrong."""
    takes_notes: bool = False
    """Whether there is a book in which a note in one breath can be written."""
    note_expected: bool = False
    """Whether the next words are a note."""
    no_call_until: float = math.inf
    """Speech that began before this needs no wake phrase."""
    evidence: Evidence | None = None
    """What earlier tries at the same answer may have been."""
    at: float = 0.0
    """The time now."""
