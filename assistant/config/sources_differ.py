"""What published sources differ on, so that the general files leave it open: the owner is asked.

A caution each, never a problem. An owner's emergencies file answers where an act or a reason of
that entry speaks of it in words of its own; a list answers where it is the owner's.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from assistant.config import paths
from assistant.config.engine_file import EngineFile
from assistant.errors import Problem
from assistant.procedure.checklist import Checklist
from assistant.procedure.emergency import Emergencies, Emergency

FEED = r"\b(feed|feeds|fed|inject\w*|pump\w*)\b"
FIRE = r"\b(draw\w*|drop\w*|bank\w*|let the fire|leave the fire)\b"
ENGINE = r"\b(stop|stopp\w+|keep her|regulator|running)\b"

# An alarm, what its entry would speak of, and what is asked. Sources: Babcock and Wilcox 1919,
# Stephenson 1903 and Maggard on the fire, the feed and the engine; railway against farm books on a
# plug; an examiners' catechism and a museum's answers on a tube; operators' sheets over the lift.
IN_EMERGENCIES: tuple[tuple[str, str, str], ...] = (
    ("water out of sight", FIRE, "is the fire drawn, banked or left"),
    ("water out of sight", ENGINE, "is an engine at work stopped or kept running"),
    ("water out of sight", FEED, "is a feed that runs already left on"),
    ("plug has gone", FEED, "is a feed put on or kept off"),
    ("tube has burst", r"\bblower\b", "is the blower on or shut"),
    ("tube has burst", FEED, "are the injectors on or off"),
    ("over-pressure", FEED, "is she fed"),
    ("over-pressure", r"\b(lever|by hand|leave the valve|lift the valve)\b", "is the valve lifted"),
    ("engine is running away", r"\brevers\w*\b", "is she reversed against the motion"),
)
# A list that ships, and what is asked.
IN_LISTS: tuple[tuple[str, str], ...] = (
    ("priming", "foaming: is the regulator half shut until the level is known"),
    ("putting_away", "blow-down: at what pressure"),
)


def entries_left_open(emergencies: Emergencies, general: Emergencies) -> Iterator[Problem]:
    """What an owner's file does not say."""
    for alarm, words, question in IN_EMERGENCIES:
        entry, shipped = emergencies.for_alarm(alarm), general.for_alarm(alarm)
        if entry is None or _speaks_of(entry, shipped, words):
            continue
        text = (
            f"emergency {entry.name!r}: {question}? Sources differ: write in what the engine's own"
            " instructions say"
        )
        yield Problem(emergencies.file, entry.line, 1, text)


def lists_left_open(lists: Iterable[Checklist]) -> Iterator[str]:
    """The questions to the lists that are ours."""
    ours = {each.name for each in lists if _ships(each)}
    return (question for name, question in IN_LISTS if name in ours)


def without_owners_file(engine: EngineFile, lists: Iterable[Checklist]) -> Iterator[Problem]:
    """An engine in use, and no emergencies of her owner's: everything, in one line."""
    if engine.invented:
        return
    asked = [
        "low water: is she fed at the mark",
        *(f"{alarm}: {question}" for alarm, _, question in IN_EMERGENCIES),
        *lists_left_open(lists),
    ]
    text = (
        "sources differ, and the general emergencies leave it open: write an emergencies file and"
        f" lists of your own by the engine's instructions ({'; '.join(asked)})"
    )
    yield Problem(str(engine.path), 0, 0, text)


def _speaks_of(entry: Emergency, shipped: Emergency | None, words: str) -> bool:
    """Whether an act or the reason that is not ours speaks of it."""
    ours = () if shipped is None else (*shipped.acts, shipped.why)
    own = " ".join(text for text in (*entry.acts, entry.why) if text not in ours)
    return re.search(words, own, re.IGNORECASE) is not None


def _ships(checklist: Checklist) -> bool:
    """Whether it came from the folder of the lists that ship, unchanged."""
    folder = str(paths.checklists_folder())
    return all(step.file.startswith(folder) for step in checklist.steps)
