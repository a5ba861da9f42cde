"""The chart of a steam-up: pressure, glass, what was done and every alarm on one time axis.

Knows the plotting library and a story; no page and no file.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from assistant.boiler.scales import PSI_PA
from assistant.messages import Report
from assistant.report.dials import Dial, glass_dial, in_unit, pressure_dial
from assistant.report.drawing import (
    EDGES_IN,
    FONT_PT,
    INCHES,
    Drawing,
    marks,
    saved,
    settings,
    stacked,
    time_axis,
)
from assistant.report.events_chart import alarm_rows, draw_events, height_in
from assistant.report.page import Form
from assistant.report.story import Story
from assistant.report.terms import Terms

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_MARKERS = 80  # more calls than this are a line without a marker for each
MOST_FANS = 8


def draw(story: Story, terms: Terms, form: Form) -> bytes:
    """The chart as SVG or PNG."""
    import matplotlib

    with matplotlib.rc_context(settings(form)):
        return saved(figure_of(story, terms, form), form)


def figure_of(story: Story, terms: Terms, form: Form) -> Figure:
    """The chart before it is written; its fonts are those of the settings in force."""
    from matplotlib.figure import Figure

    moment = story.started
    day_s = 0.0 if moment is None else moment.hour * 3600.0 + moment.minute * 60 + moment.second
    drawing = Drawing(form, terms, 0.0, max(story.length_s, 600.0), day_s)
    alarms = alarm_rows(story.alarms)
    figure = Figure()
    axes = stacked(figure, INCHES[form], [0.2, 2.1, 1.5, height_in(alarms)], EDGES_IN)
    _phases(axes[0], story, drawing)
    _pressure(axes[1], story, drawing)
    _glass(axes[2], story, drawing)
    draw_events(axes[3], story, alarms)
    _breaks(axes, story)
    time_axis(axes[3], drawing)
    return figure


def _phases(axes: Axes, story: Story, drawing: Drawing) -> None:
    """A strip: the name where it fits, otherwise its number in the table, otherwise nothing."""
    axes.set_ylim(0, 1)
    axes.set_axis_off()
    characters = INCHES[drawing.form] * 72 * 0.85 / (FONT_PT[drawing.form] * 0.62)
    for number, phase in enumerate(story.phases, 1):
        end = story.length_s if phase.to_s is None else phase.to_s
        axes.axvspan(phase.from_s, end, color="#dfe6ee" if number % 2 else "#c3d0df", lw=0)
        room = (end - phase.from_s) / (drawing.to_s - drawing.from_s) * characters
        for text in (f"{number} {phase.name}", str(number)):
            if len(text) + 0.5 <= room:
                axes.text((phase.from_s + end) / 2, 0.5, text, ha="center", va="center")
                break


def _line(axes: Axes, story: Story, dial: Dial, colour: str) -> None:
    xs, ys = dial.points(story.standing)
    if not xs:
        axes.text(0.5, 0.5, "none called", transform=axes.transAxes, ha="center", va="center")
    axes.plot(xs, ys, color=colour, marker="o" if len(xs) <= MOST_MARKERS else "", ms=3, zorder=3)
    struck = [call for call in story.calls if call.state != "stands"]
    xs, ys = dial.points(struck)
    axes.plot(xs, ys, ls="", marker="x", color="#777", ms=5, zorder=2)


def _pressure(axes: Axes, story: Story, drawing: Drawing) -> None:
    terms = drawing.terms
    dial = pressure_dial(terms)
    axes.set_title(f"pressure [{terms.pressure}]", loc="left")
    _fans(axes, story, dial, terms)
    _line(axes, story, dial, "#8a1c1c")
    top = max(dial.points(story.calls)[1], default=0.0)
    if story.engine is not None:
        engine = story.engine.engine
        levels_pa = [
            (engine.working_pressure_gauge_pa, "wanted"),
            (engine.valve_lifts_gauge_pa, "valve lifts"),
        ]
        if engine.allowed_pressure_gauge_pa is not None:
            levels_pa.append((engine.allowed_pressure_gauge_pa, "allowed"))
        levels = sorted((in_unit(terms, pa), name) for pa, name in levels_pa)
        top = max([top, *(level for level, _ in levels)])
        marks(axes, levels, top * 1.1, drawing)
    axes.set_ylim(0, top * 1.1 or 1.0)
    axes.grid(axis="y", color="#ddd", lw=0.5)


def _glass(axes: Axes, story: Story, drawing: Drawing) -> None:
    axes.set_title("water in the glass", loc="left")
    _line(axes, story, glass_dial(story), "#1d4f8a")
    lost = [c.at_s for c in story.standing if c.report == Report("water", "out of sight")]
    axes.plot(lost, [0.0] * len(lost), ls="", marker="v", color="#b00020", ms=6, clip_on=False)
    if story.engine is not None:
        glass = story.engine.engine.glass
        axes.axhspan(glass.lower_mark, glass.upper_mark, color="#e8f1e8", lw=0, zorder=0)
        marks(axes, [(glass.lower_mark, "lower"), (glass.upper_mark, "upper")], 1.0, drawing)
    axes.set_ylim(0, 1)
    axes.set_yticks([0, 0.25, 0.5, 0.75, 1], ["0", "¼", "½", "¾", "1"])
    axes.grid(axis="y", color="#ddd", lw=0.5)


def _fans(axes: Axes, story: Story, dial: Dial, terms: Terms) -> None:
    """Each forecast: from the last call to the pressure and the times it gave."""
    forecasts = [
        (at_s, made)
        for at_s, made in story.forecasts
        if made.low is not None and made.mid and made.high is not None
    ]
    step = max(1, -(-len(forecasts) // MOST_FANS))
    xs, ys = dial.points(story.standing)
    for at_s, made in forecasts[::step]:
        before = [y for x, y in zip(xs, ys, strict=True) if x <= at_s]
        if not before or made.low is None or made.mid is None or made.high is None:
            continue
        target = in_unit(terms, made.target_psi * PSI_PA)
        ends = [at_s + 60 * minutes for minutes in (made.low, made.mid, made.high)]
        axes.fill([at_s, ends[0], ends[2]], [before[-1], target, target], color="#e08a2e",
                  alpha=0.16, lw=0, zorder=1)  # fmt: skip
        axes.plot([at_s, ends[1]], [before[-1], target], color="#c06a10", lw=0.7,
                  ls=(0, (1, 2)), zorder=1)  # fmt: skip


def _breaks(axes: Sequence[Axes], story: Story) -> None:
    """Hatched while the program was not running."""
    for at_s, away_s in story.breaks:
        for each in axes:
            each.axvspan(at_s - away_s, at_s, facecolor="none", edgecolor="#999", hatch="///", lw=0)
