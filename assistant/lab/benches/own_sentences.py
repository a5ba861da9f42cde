"""What the program itself says in practices: every different sentence with its pace, by sort.

Knows the session and the simulator; knows no sound.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.commands.session_build import header_of, session_config_of
from assistant.config.engine_file import find_engine
from assistant.devices.speaker import paced
from assistant.dialogue.session import Session
from assistant.lab.alarms import alarm_day
from assistant.messages import Effect, Event, Say, Urgency
from assistant.simulator.manners import RIGHTLY

PRACTICES = (alarm_day.HEALTHY, "low water", "valve stuck", "glass stuck", "feed stuck")
"""By their faults; each brings alarms and dangers of its own."""
SORTS = {
    Urgency.DANGER: "alarms",
    Urgency.ALARM: "alarms",
    Urgency.ANSWER: "read-backs and answers",
    Urgency.PROMPT: "questions and acts",
    Urgency.CHAT: "questions and acts",
}
_ENGINE, _DATE = "practice", "2026-05-01T09:00:00+00:00"


@dataclass(frozen=True, slots=True)
class OwnSentence:
    """One sentence as the speaker is given it."""

    text: str
    pace_wpm: int
    sort: str
    """One of the values of `SORTS`."""


class _Overheard(Session):
    """A session whose words are kept."""

    said: list[Say]

    def handle(self, event: Event) -> list[Effect]:
        effects = super().handle(event)
        self.said += [effect for effect in effects if isinstance(effect, Say)]
        return effects


def spoken_in(practices: Sequence[str] = PRACTICES, seed: int = 1) -> list[OwnSentence]:
    """Every different sentence of these practices, in the order in which it was first said."""
    found: dict[tuple[str, int], OwnSentence] = {}
    for fault in practices:
        parts = session_config_of(header_of(find_engine(_ENGINE), _DATE, seed, "rehearsal"))
        session = _Overheard(parts)
        session.said = []
        alarm_day.play(session, parts.engine, parts.lists, fault, RIGHTLY, seed)
        for one in session.said:
            for sentence in paced(one.text, one.urgency):
                found.setdefault(sentence, OwnSentence(*sentence, SORTS[one.urgency]))
    return list(found.values())


def drawn(sentences: Sequence[OwnSentence], seed: int = 1) -> list[OwnSentence]:
    """All of them by chance, the sorts in turn as long as each lasts: any beginning is a sample."""
    rng = random.Random(seed)
    by_sort: dict[str, list[OwnSentence]] = {}
    for sentence in rng.sample(sentences, len(sentences)):
        by_sort.setdefault(sentence.sort, []).append(sentence)
    ranked = [(place, sort, s) for sort in by_sort for place, s in enumerate(by_sort[sort])]
    return [sentence for _, _, sentence in sorted(ranked, key=lambda one: one[:2])]
