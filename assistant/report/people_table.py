"""Who had the watch, who looked at the boiler. A name that was noted is written by hand.

Knows the story; repairs nothing in it.
"""

from __future__ import annotations

from assistant.messages import BY, IN_A_NOTE, LOOKED_AT, NAME_NOT_GIVEN, NOT_NAMED, ON_WATCH
from assistant.report.page import TablePart, TableRow, TextPart, table
from assistant.report.story import Story
from assistant.report.story_values import Call
from assistant.report.terms import time_of_day

BY_HAND = "by hand: ____________________"
NOT_GIVEN = "name not given"
NOTE_WITHIN_S = 120.0  # a note so soon after the question is its answer. Judgement


def people(story: Story) -> TablePart | TextPart:
    """One row for each time the watch was handed over or the boiler looked at."""
    calls = [call for call in story.standing if _is_named(call)]
    rows = [
        TableRow((time_of_day(story.started, call.at_s), what, name))
        for place, call in enumerate(calls)
        for what, name in _row(story, call, calls[place + 1 :])
    ]
    return table(("time", "what", "who"), rows, (2, 4, 5), "No name was said.")


def _is_named(call: Call) -> bool:
    report = call.report
    looked = report.what == "boiler" and str(report.value).startswith(LOOKED_AT)
    return looked or report.what == ON_WATCH


def _row(story: Story, call: Call, later: list[Call]) -> list[tuple[str, str]]:
    """Its row; none for a report whose name follows in the next one."""
    value, what = str(call.report.value), call.report.what
    follows = bool(later) and later[0].report.what == what and _answers(call, later[0])
    if value in (NOT_NAMED, LOOKED_AT) and follows:
        return []
    if value in (IN_A_NOTE, LOOKED_AT) and (noted := _note_near(story, call.at_s)):
        name = f"{noted}; {BY_HAND}"
    elif value in (NOT_NAMED, LOOKED_AT, NAME_NOT_GIVEN, IN_A_NOTE):
        name = f"{NOT_GIVEN}; {BY_HAND}"
    else:
        name = value.removeprefix(BY)
    return [("has the watch" if what == ON_WATCH else "boiler looked at", name)]


def _answers(call: Call, after: Call) -> bool:
    """Whether the next report is the answer to who it was."""
    return str(after.report.value) != str(call.report.value)


def _note_near(story: Story, at_s: float) -> str:
    """The note in which a name was said, in words; empty for none."""
    near = (t for t, _ in story.notes if 0.0 <= t - at_s <= NOTE_WITHIN_S)
    found = next(near, None)
    return "" if found is None else f"in the note of {time_of_day(story.started, found)}"
