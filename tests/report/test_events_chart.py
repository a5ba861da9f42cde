"""The rows of the chart below the curves."""

from __future__ import annotations

from pathlib import Path

from matplotlib.figure import Figure
from report_books import keep, reading

from assistant.messages import Grade
from assistant.report.events_chart import MOST_ALARMS, alarm_rows, draw_events, height_in
from assistant.report.story import read_story
from assistant.report.story_values import ShownAlarm


def alarm(name: str, grade: Grade, at_s: float) -> ShownAlarm:
    return ShownAlarm(name, grade, at_s, "")


def test_the_gravest_come_first_and_one_kind_is_one_row() -> None:
    rows = alarm_rows(
        [
            alarm("fire low", Grade.CAUTION, 1.0),
            alarm("water low", Grade.DANGER, 2.0),
            alarm("fire low", Grade.CAUTION, 3.0),
        ]
    )
    assert [(name, len(some)) for name, some in rows] == [("water low", 1), ("fire low", 2)]


def test_kinds_beyond_the_last_row_share_it_and_none_is_lost() -> None:
    alarms = [alarm(f"alarm {i}", Grade.WARNING, float(i)) for i in range(MOST_ALARMS + 4)]
    rows = alarm_rows(alarms)
    assert len(rows) == MOST_ALARMS
    assert rows[-1][0] == "5 more kinds, in the table"
    assert sum(len(some) for _, some in rows) == len(alarms)
    assert height_in(rows) > height_in(rows[:2]) > height_in([])


def test_a_bar_lasts_until_the_state_changes(tmp_path: Path) -> None:
    said = [
        (60.0, reading("blower", "half")),
        (300.0, reading("blower", "open")),
        (600.0, reading("blower", "shut")),
        (900.0, reading("pressure", 20.0, "psi")),
    ]
    axes = Figure().add_subplot()
    draw_events(axes, read_story(keep(tmp_path, said)), [])
    bars = [(bar.get_x(), bar.get_width()) for bar in axes.patches]
    assert bars == [(60.0, 240.0), (300.0, 300.0)]
    half, wide = (bar.get_height() for bar in axes.patches)
    assert half < wide
