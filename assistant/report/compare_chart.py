"""The chart of several steam-ups over each other, time counted from lighting the fire."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from assistant.report.dials import glass_dial, in_unit, pressure_dial
from assistant.report.drawing import EDGES_IN, INCHES, Drawing, marks, saved, settings, stacked
from assistant.report.page import Form
from assistant.report.story import Story
from assistant.report.terms import Terms

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

# Distinguished by colour and by stroke, so that a grey print can be read too.
COLOURS = ("#8a1c1c", "#1d4f8a", "#2e6b2e", "#8a5a00", "#5b3a86", "#333333")
STROKES: tuple[Any, ...] = ("-", (0, (5, 2)), (0, (1, 1.5)), (0, (6, 2, 1, 2)))
KEY_LINE_IN = 0.19


def draw_over(
    stories: Sequence[Story], origins_s: Sequence[float], names: Sequence[str], terms: Terms,
    form: Form,
) -> bytes:  # fmt: skip
    """Pressure and glass of each story; origins_s: the second of each that counts as zero."""
    import matplotlib

    with matplotlib.rc_context(settings(form)):
        return saved(figure_over(stories, origins_s, names, terms, form), form)


def figure_over(
    stories: Sequence[Story], origins_s: Sequence[float], names: Sequence[str], terms: Terms,
    form: Form,
) -> Figure:  # fmt: skip
    """The chart before it is written; its fonts are those of the settings in force."""
    from matplotlib.figure import Figure

    ends = [s.length_s - origin for s, origin in zip(stories, origins_s, strict=True)]
    starts = [_first(s, origin) for s, origin in zip(stories, origins_s, strict=True)]
    drawing = Drawing(form, terms, min([0.0, *starts]), max([600.0, *ends]))
    figure = Figure()
    columns = 1 if drawing.narrow else 3
    key_in = KEY_LINE_IN * -(-len(stories) // columns) + 0.05
    left, right, bottom, between = EDGES_IN
    edges = (left, right, bottom + key_in, between)
    upper, lower = stacked(figure, INCHES[form], [2.3, 1.5], edges)
    _pressures(upper, stories, origins_s, names, drawing)
    _glasses(lower, stories, origins_s, drawing)
    lower.set_xlim(drawing.from_s / 60, drawing.to_s / 60)
    lower.set_xlabel("minutes since the fire was lit")
    figure.legend(
        *upper.get_legend_handles_labels(), loc="lower left", ncols=columns, frameon=False,
        bbox_to_anchor=(0.02, 0.0), borderaxespad=0.1, handlelength=3.2, labelspacing=0.25,
    )  # fmt: skip
    return figure


def _first(story: Story, origin_s: float) -> float:
    """Readings before the fire are shown a little, not the whole of a long preparation."""
    first = min((c.at_s for c in story.standing), default=origin_s)
    return max(first - origin_s, -600.0)


def _stroke(number: int) -> dict[str, Any]:
    return {"color": COLOURS[number % len(COLOURS)], "ls": STROKES[number % len(STROKES)]}


def _pressures(
    axes: Axes, stories: Sequence[Story], origins_s: Sequence[float], names: Sequence[str],
    drawing: Drawing,
) -> None:  # fmt: skip
    dial = pressure_dial(drawing.terms)
    axes.set_title(f"pressure [{drawing.terms.pressure}]", loc="left")
    top = 1.0
    for number, (story, origin, name) in enumerate(zip(stories, origins_s, names, strict=True)):
        xs, ys = dial.points(story.standing)
        axes.plot([(x - origin) / 60 for x in xs], ys, label=name, **_stroke(number))
        top = max([top, *ys])
    engine = next((s.engine.engine for s in reversed(stories) if s.engine is not None), None)
    if engine is not None:
        working = in_unit(drawing.terms, engine.working_pressure_gauge_pa)
        top = max(top, working)
        marks(axes, [(working, "wanted")], top * 1.1, drawing)
    axes.set_ylim(0, top * 1.1)
    axes.grid(axis="y", color="#ddd", lw=0.5)


def _glasses(
    axes: Axes, stories: Sequence[Story], origins_s: Sequence[float], drawing: Drawing
) -> None:
    axes.set_title("water in the glass", loc="left")
    for number, (story, origin) in enumerate(zip(stories, origins_s, strict=True)):
        xs, ys = glass_dial(story).points(story.standing)
        axes.plot([(x - origin) / 60 for x in xs], ys, **_stroke(number))
    engine = next((s.engine.engine for s in reversed(stories) if s.engine is not None), None)
    if engine is not None:
        glass = engine.glass
        marks(axes, [(glass.lower_mark, "lower"), (glass.upper_mark, "upper")], 1.0, drawing)
    axes.set_ylim(0, 1)
    axes.set_yticks([0, 0.25, 0.5, 0.75, 1], ["0", "¼", "½", "¾", "1"])
    axes.grid(axis="y", color="#ddd", lw=0.5)
