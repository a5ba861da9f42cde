"""The charts: no label lies on another or runs off the drawing, with little on them and much."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import matplotlib
import pytest
from chart_labels import collisions, texts
from matplotlib.figure import Figure
from report_books import ENGINE, keep, many, reading

from assistant.messages import AlarmChanged, ForecastMade, Grade, PhaseBegan, PhaseDone
from assistant.report.chart import draw, figure_of
from assistant.report.drawing import settings
from assistant.report.page import Form
from assistant.report.story import Story, read_story
from assistant.report.terms import Terms

FORMS: tuple[Form, ...] = ("wide svg", "narrow svg")
PHASES = ("preparation", "firing", "raising steam", "tick-over", "pumping", "standing by")


def full(folder: Path) -> Story:
    said: list[tuple[float, Any]] = list(many(500))
    for i, phase in enumerate(PHASES):
        said += [(4000.0 * i + 1, PhaseBegan(phase)), (4000.0 * i + 40 * i, PhaseDone(phase))]
    for i in range(14):
        name = f"an alarm with rather a long name {i}"
        said.append((900.0 * i + 5, AlarmChanged(name, Grade(i % 3 + 1), "raised")))
    said += [(600.0 * i, ForecastMade(120.0, 20.0, 30.0, 50.0, "")) for i in range(40)]
    said.append((29_000.0, reading("water", "out of sight")))
    return read_story(keep(folder, sorted(said, key=lambda one: one[0])))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("count", [0, 5, 500])
def test_no_label_lies_on_another(tmp_path: Path, count: int, form: Form) -> None:
    story = read_story(keep(tmp_path, many(count)))
    with matplotlib.rc_context(settings(form)):
        assert collisions(figure_of(story, Terms(), form)) == []


@pytest.mark.parametrize("form", FORMS)
def test_no_label_lies_on_another_where_working_pressure_lift_and_allowed_are_one(
    tmp_path: Path, form: Form
) -> None:
    engine = ENGINE.replace("{lifts: 145 psi, feathers: 132 psi}", "{lifts: 120 psi}")
    engine += "allowed_pressure: 120 psi\n"
    story = read_story(keep(tmp_path, many(50), engine=engine))
    with matplotlib.rc_context(settings(form)):
        figure = figure_of(story, Terms(), form)
        assert collisions(figure) == []
        assert {"allowed", "wanted", "valve lifts"} <= {text for text, _ in texts(figure)}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("unit", ["psi", "kPa"])
def test_no_label_lies_on_another_on_a_bad_day(tmp_path: Path, form: Form, unit: str) -> None:
    story = full(tmp_path)
    with matplotlib.rc_context(settings(form)):
        figure = figure_of(story, Terms(unit), form)
        assert collisions(figure) == []
        assert any("5 more kinds" in told for told, _ in texts(figure))


def test_a_collision_would_be_seen() -> None:
    figure = Figure()
    figure.text(0.5, 0.5, "one")
    figure.text(0.5, 0.5, "other")
    figure.text(0.99, 0.5, "much too far to the right")
    assert len(collisions(figure)) == 2


def test_the_same_story_gives_the_same_bytes(tmp_path: Path) -> None:
    story = read_story(keep(tmp_path, many(5)))
    assert draw(story, Terms(), "narrow svg") == draw(story, Terms(), "narrow svg")
