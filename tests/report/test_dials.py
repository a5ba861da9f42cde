"""Readings as values on the axes of a chart."""

from __future__ import annotations

from pathlib import Path

import pytest
from report_books import keep

from assistant.boiler.scales import PSI_PA
from assistant.messages import Report
from assistant.report.dials import glass_dial, pressure_dial
from assistant.report.story import read_story
from assistant.report.story_values import Call
from assistant.report.terms import Terms


def test_points_are_on_the_owners_dial(tmp_path: Path) -> None:
    story = read_story(keep(tmp_path, []))
    pressure, glass = pressure_dial(Terms("psi")), glass_dial(story)
    assert pressure.of(Report("pressure", 2.0, "bar")) == pytest.approx(200_000 / PSI_PA)
    assert glass.of(Report("water", 40.0, "mm")) == pytest.approx(0.25)  # of 160 mm visible
    assert glass.of(Report("water", 0.5, "glass")) == 0.5
    assert glass.of(Report("water", "out of sight")) is None


def test_only_calls_with_a_value_on_the_axis_are_points() -> None:
    calls = [
        Call(1.0, Report("pressure", 20.0, "psi")),
        Call(2.0, Report("water", 0.5, "glass")),
        Call(3.0, Report("pressure", "needle on the pin")),
        Call(4.0, Report("pressure", 30.0, "litre")),
        Call(5.0, Report("pressure", 40.0, "psi")),
    ]
    times, values = pressure_dial(Terms("psi")).points(calls)
    assert (times, values) == ([1.0, 5.0], pytest.approx([20.0, 40.0]))
