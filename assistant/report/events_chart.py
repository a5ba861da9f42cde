"""The lowest part of the chart: what was open or burning, tests, notes and alarms, row by row."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from assistant.messages import Grade
from assistant.report.findings import TESTS, made_tests
from assistant.report.story import Story
from assistant.report.story_values import ShownAlarm

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MOST_ALARMS = 10
ROW_IN = 0.17
ALARM_ROWS = 1.7  # an alarm has its name above its bar
GAP_ROWS = 0.6  # rows between the notes and the first alarm
GRADES = {Grade.CAUTION: "#c9a400", Grade.WARNING: "#d96b00", Grade.DANGER: "#b00020"}
SHOWN_STATES = ("fire", "blower", "damper", "feed", "regulator", "valve")
ROWS = (*SHOWN_STATES, "tests", "notes")
_OPENING = {
    "crack": 0.3, "half": 0.6, "open": 1.0, "on": 1.0, "feathering": 0.4, "lifting": 1.0,
    "lit": 0.3, "built": 0.6, "coal": 1.0, "bright": 1.0, "banked": 0.4,
}  # fmt: skip

AlarmRows = list[tuple[str, list[ShownAlarm]]]


def height_in(alarms: AlarmRows) -> float:
    """How high the rows are together [inch]."""
    return ROW_IN * (len(ROWS) + _alarm_rows(len(alarms))) + 0.1


def _alarm_rows(count: int) -> float:
    return GAP_ROWS + ALARM_ROWS * count if count else 0.0


def alarm_rows(alarms: Sequence[ShownAlarm]) -> AlarmRows:
    """Alarms by name, gravest first, then in order; the last row takes those over `MOST_ALARMS`."""
    names = dict.fromkeys(a.name for a in sorted(alarms, key=lambda a: -a.grade))
    rows = [(name, [a for a in alarms if a.name == name]) for name in names]
    if len(rows) > MOST_ALARMS:
        rest = [alarm for _, some in rows[MOST_ALARMS - 1 :] for alarm in some]
        kinds = len(rows) - MOST_ALARMS + 1
        rows = [*rows[: MOST_ALARMS - 1], (f"{kinds} more kinds, in the table", rest)]
    return rows


def draw_events(axes: Axes, story: Story, alarms: AlarmRows) -> None:
    """Rows from the top: what was open or burning, tests and notes, then each kind of alarm."""
    names = [*SHOWN_STATES, "tests", "notes"]
    for row, what in enumerate(SHOWN_STATES):
        _state_bars(axes, story, what, -float(row))
    tests = [test.at_s for test in made_tests(story) if test.name != TESTS["valve"]]
    notes = [at_s for at_s, _ in story.notes]
    for row, times in ((len(SHOWN_STATES), tests), (len(SHOWN_STATES) + 1, notes)):
        axes.plot(times, [-float(row)] * len(times), ls="", marker="D", ms=3.5, color="#333")
    for row, (name, some) in enumerate(alarms):
        y = -(len(names) + GAP_ROWS - 0.1 + ALARM_ROWS * row + 0.7)
        grade = max(alarm.grade for alarm in some)
        axes.text(0.005, y + 0.75, f"{grade.word}: {name}", va="center",
                  transform=axes.get_yaxis_transform())  # fmt: skip
        for alarm in some:
            end = story.length_s if alarm.cleared_s is None else alarm.cleared_s
            axes.plot([alarm.raised_s, max(end, alarm.raised_s)], [y, y], lw=4,
                      color=GRADES[alarm.grade], solid_capstyle="butt")  # fmt: skip
            axes.plot([alarm.raised_s], [y], marker="|", ms=7, color="#111", ls="")
    axes.set_yticks([-float(row) for row in range(len(names))], names)
    axes.set_ylim(-(len(names) + _alarm_rows(len(alarms)) - 0.3), 0.8)
    axes.tick_params(axis="y", length=0)
    axes.spines["left"].set_visible(False)


def _state_bars(axes: Axes, story: Story, what: str, y: float) -> None:
    """A bar while it was open, on or burning; the wider it was open, the higher the bar."""
    calls = [call for call in story.standing if call.report.what == what]
    axes.axhline(y, color="#e4e4e4", lw=0.5, zorder=0)
    for call, after in zip(calls, [*calls[1:], None], strict=False):
        height = _OPENING.get(str(call.report.value), 0.0) * 0.7
        end = story.length_s if after is None else after.at_s
        if height:
            axes.barh(y, end - call.at_s, left=call.at_s, height=height, color="#5c6b7a")
