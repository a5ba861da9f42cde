"""What was done for a learner in a session, in counts. It says nothing of what anybody can do."""

from __future__ import annotations

from collections import Counter

from assistant.report.page import TablePart, TableRow, TextPart
from assistant.report.story import Story

NO_JUDGEMENT = "Counts of what was told and asked. They say nothing of what anybody can do."
ROWS = (
    ("reason", "reasons told before a check that must be made"),
    ("act", "acts told one by one"),
    ("anticipated", "steps told before they were asked"),
    ("prompt left out", "prompts left out, as those were told unasked before"),
)


def learner(story: Story) -> tuple[TablePart | TextPart, ...]:
    """The counts, and the steps; empty where nobody learned."""
    if not story.learner:
        return ()
    counts: Counter[str] = Counter(given.what for _, given in story.lessons)
    steps = {
        what: sorted({given.step for _, given in story.lessons if given.what == what})
        for what, _ in ROWS
    }
    rows = [TableRow(("learner", story.learner, ""))]
    rows += [TableRow((words, str(counts[what]), "; ".join(steps[what]))) for what, words in ROWS]
    return TablePart((), tuple(rows), (4, 2, 6)), TextPart(NO_JUDGEMENT)
