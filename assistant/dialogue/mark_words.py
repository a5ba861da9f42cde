"""The water told by her marks: what may be said of them, and which level that is in this glass.

"The mark" alone is the lower one, the graver; where the list asks for the cold mark, that one.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from assistant.dialogue.event_context import EventContext
from assistant.messages import Report
from assistant.procedure import position

FRAMES = ("water at the {}", "water is at the {}", "water on the {}")
UNDER_FRAMES = ("water is below the {}", "water is under the {}")
UNDER = 0.02  # of the glass: below a mark, by how much nobody said
COLD_FILL = "cold fill"  # the figure of a step's limit


def forms(context: EventContext) -> Iterator[tuple[str, Report]]:
    """Each form with its level of the glass."""
    glass = context.config.engine.glass
    levels = {
        "mark": glass.cold_fill if _asks_for_the_cold_mark(context) else glass.lower_mark,
        "lower mark": glass.lower_mark,
        "upper mark": glass.upper_mark,
        "cold mark": glass.cold_fill,
    }
    for mark, level in levels.items():
        for frame in FRAMES:
            yield frame.format(mark), Report("water", level, "glass")
    under = Report("water", max(glass.lower_mark - UNDER, 0.0), "glass")
    for mark, frame in product(("mark", "lower mark"), UNDER_FRAMES):
        yield frame.format(mark), under


def _asks_for_the_cold_mark(context: EventContext) -> bool:
    step = position.in_hand(context.state.progress)
    least = None if step is None or step.limits is None else step.limits.at_least
    return least is not None and least.figure == COLD_FILL
