"""The chart of several steam-ups over each other."""

from __future__ import annotations

from pathlib import Path

import matplotlib
import pytest
from chart_labels import collisions, texts
from report_books import keep, many, reading

from assistant.report.compare_chart import figure_over
from assistant.report.drawing import settings
from assistant.report.page import Form
from assistant.report.story import read_story
from assistant.report.terms import Terms

FORMS: tuple[Form, ...] = ("wide svg", "narrow svg")


@pytest.mark.parametrize("form", FORMS)
def test_no_label_lies_on_another_when_compared(tmp_path: Path, form: Form) -> None:
    story = read_story(keep(tmp_path, many(60)))
    names = [f"{n}: 2027-05-03 08:00" for n in range(1, 8)]
    with matplotlib.rc_context(settings(form)):
        assert collisions(figure_over([story] * 7, [0.0] * 7, names, Terms(), form)) == []


def test_time_counts_from_the_lighting_of_each(tmp_path: Path) -> None:
    early = [(1200.0 + at_s, effect) for at_s, effect in many(20)]
    stories = [
        read_story(keep(tmp_path, many(20))),
        read_story(keep(tmp_path, early, "2027-05-04T08:00:00+01:00")),
    ]
    figure = figure_over(stories, [0.0, 1200.0], ["a", "b"], Terms(), "wide svg")
    first, second = (line.get_xdata() for line in figure.axes[0].lines[:2])
    assert list(first) == pytest.approx(list(second))
    assert {"a", "b"} <= {label for label, _ in texts(figure)}


def test_a_long_preparation_is_cut_short(tmp_path: Path) -> None:
    said = [(0.0, reading("water", 0.5, "glass")), (7200.0, reading("fire", "lit"))]
    story = read_story(keep(tmp_path, said))
    figure = figure_over([story], [7200.0], ["a"], Terms(), "wide svg")
    assert figure.axes[1].get_xlim()[0] == pytest.approx(-10.0)  # minutes
