"""The charts: no label lies on another or runs off the drawing, with little on them and much."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import Any

import matplotlib
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from report_books import keep, many, reading

from assistant.boiler.scales import PSI_PA
from assistant.messages import AlarmChanged, ForecastMade, Grade, PhaseBegan, PhaseDone, Report
from assistant.report.chart import draw, figure_of
from assistant.report.compare_chart import figure_over
from assistant.report.dials import glass_dial, pressure_dial
from assistant.report.drawing import settings, spread
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


def texts(figure: Figure) -> Iterator[tuple[str, Any]]:
    """Every visible lettering of a figure with the box that it takes up."""
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    for text in figure.findobj(Text):
        if text.get_text().strip() and text.get_visible():
            owner = text.axes
            if owner is not None and not owner.axison and text in _axis_texts(owner):
                continue
            yield text.get_text(), text.get_window_extent(canvas.get_renderer())


def _axis_texts(axes: Any) -> list[Text]:
    return [*axes.xaxis.findobj(Text), *axes.yaxis.findobj(Text)]


def collisions(figure: Figure) -> list[str]:
    shown = [(told, box) for told, box in texts(figure) if box.width > 0]
    found = [f"{a} on {b}" for (a, x), (b, y) in combinations(shown, 2) if x.overlaps(y)]
    found += [
        f"{told} off the drawing"
        for told, box in shown
        if box.x0 < 0 or box.y0 < 0 or box.x1 > figure.bbox.x1 or box.y1 > figure.bbox.y1
    ]
    return found


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("count", [0, 5, 500])
def test_no_label_lies_on_another(tmp_path: Path, count: int, form: Form) -> None:
    story = read_story(keep(tmp_path, many(count)))
    with matplotlib.rc_context(settings(form)):
        assert collisions(figure_of(story, Terms(), form)) == []


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("unit", ["psi", "kPa"])
def test_no_label_lies_on_another_on_a_bad_day(tmp_path: Path, form: Form, unit: str) -> None:
    story = full(tmp_path)
    with matplotlib.rc_context(settings(form)):
        figure = figure_of(story, Terms(unit), form)
        assert collisions(figure) == []
        assert any("5 more kinds" in told for told, _ in texts(figure))


@pytest.mark.parametrize("form", FORMS)
def test_no_label_lies_on_another_when_compared(tmp_path: Path, form: Form) -> None:
    story = read_story(keep(tmp_path, many(60)))
    names = [f"{n}: 2027-05-03 08:00" for n in range(1, 8)]
    with matplotlib.rc_context(settings(form)):
        assert collisions(figure_over([story] * 7, [0.0] * 7, names, Terms(), form)) == []


def test_a_collision_would_be_seen() -> None:
    figure = Figure()
    figure.text(0.5, 0.5, "one")
    figure.text(0.5, 0.5, "other")
    figure.text(0.99, 0.5, "much too far to the right")
    assert len(collisions(figure)) == 2


def test_the_same_story_gives_the_same_bytes(tmp_path: Path) -> None:
    story = read_story(keep(tmp_path, many(5)))
    assert draw(story, Terms(), "narrow svg") == draw(story, Terms(), "narrow svg")


def test_points_are_on_the_owners_dial(tmp_path: Path) -> None:
    story = read_story(keep(tmp_path, []))
    pressure, glass = pressure_dial(Terms("psi")), glass_dial(story)
    assert pressure.of(Report("pressure", 2.0, "bar")) == pytest.approx(200_000 / PSI_PA)
    assert glass.of(Report("water", 40.0, "mm")) == pytest.approx(0.25)  # of 160 mm visible
    assert glass.of(Report("water", 0.5, "glass")) == 0.5
    assert glass.of(Report("water", "out of sight")) is None


def test_marks_are_moved_apart_and_never_out_of_order() -> None:
    assert spread([100.0, 101.0, 102.0], 5.0) == [100.0, 105.0, 110.0]
    assert spread([10.0, 50.0], 5.0) == [10.0, 50.0]
