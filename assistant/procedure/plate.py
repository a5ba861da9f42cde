"""The question at every start whether the engine file is this engine's: its name and its answers.

Of no list, because no list may be written that leaves it out. Knows no words of the question.
"""

from __future__ import annotations

from assistant.messages import Report

STEP = "her plate"  # as it stands in the journal and among the open items
RIGHT, WRONG = Report("plate", "right"), Report("plate", "wrong")
EXAMPLES = ("that's right", "wrong")
# May be said at any time; right after the question a plain yes or no does as well.
ANSWERS: tuple[tuple[str, Report], ...] = (
    ("plate is right", RIGHT),
    ("plate right", RIGHT),
    ("that is her plate", RIGHT),
    ("plate is wrong", WRONG),
    ("plate wrong", WRONG),
    ("wrong plate", WRONG),
)
