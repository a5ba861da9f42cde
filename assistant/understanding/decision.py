"""What is to be done with an utterance: a value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.messages import DecisionKind, Meaning
from assistant.understanding.retries import Evidence

Source = Literal["ear", "boiler", "gauge"]


@dataclass(frozen=True, slots=True)
class Decision:
    """What to do with an utterance."""

    kind: DecisionKind
    meaning: Meaning | None
    """What it is taken for; for "confirm" what to ask about; None when there is nothing."""
    reason: str
    """In words and numbers; fit to be spoken when its source is the boiler or the gauge."""
    source: Source = "ear"
    """Who gave the reason."""
    probability: float = 0.0
    """Of the meaning, all things considered."""
    rival: Meaning | None = None
    """The second best, when it is close ("fifteen or fifty?")."""
    note: str | None = None
    """The words of a note."""
    rule: str = ""
    """The name of the rule that decided."""
    evidence: Evidence | None = None
    """What the tries at this answer amount to, this one among them."""
    spends_call: bool = False
    """Whether the leave to speak without the wake phrase is used up by it."""
