"""What every chart shares: axes in inches, ticks at round times, marks that do not overlap."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.figure import Figure

from assistant.report.drawing import Drawing, spread, stacked, time_axis
from assistant.report.terms import Terms


def test_marks_are_moved_apart_and_never_out_of_order() -> None:
    assert spread([100.0, 101.0, 102.0], 5.0) == [100.0, 105.0, 110.0]
    assert spread([10.0, 50.0], 5.0) == [10.0, 50.0]


@given(st.lists(st.floats(0.0, 100.0), max_size=8).map(sorted), st.floats(0.1, 10.0))
def test_neighbours_are_a_gap_apart_and_none_moves_down(levels: list[float], gap: float) -> None:
    placed = spread(levels, gap)
    assert all(new >= old for old, new in zip(levels, placed, strict=True))
    assert all(b - a >= gap - 1e-9 for a, b in pairwise(placed))


def test_axes_are_stacked_without_overlap() -> None:
    figure = Figure()
    axes = stacked(figure, 7.3, [0.2, 2.1, 1.5], (0.7, 0.8, 0.45, 0.27))
    boxes = [each.get_position() for each in axes]
    assert all(upper.y0 > lower.y1 for upper, lower in pairwise(boxes))
    assert [box.height * figure.get_figheight() for box in boxes] == pytest.approx([0.2, 2.1, 1.5])


@pytest.mark.parametrize(("day_s", "first"), [(0.0, "00:00"), (8 * 3600.0 + 60, "08:15")])
def test_ticks_are_at_round_times_of_day(day_s: float, first: str) -> None:
    axes = Figure().add_subplot()
    time_axis(axes, Drawing("wide svg", Terms(), 0.0, 7200.0, day_s))
    assert axes.get_xticklabels()[0].get_text() == first
    assert 4 <= len(axes.get_xticks()) <= 10
