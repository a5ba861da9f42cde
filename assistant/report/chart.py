"""The chart of a steam-up: pressure, glass, what was done and every alarm on one time axis.

Knows the plotting library and a story; no page and no file.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from assistant.boiler.scales import LENGTH_M, PRESSURE_PA, pressure_gauge_pa
from assistant.messages import Grade, Report
from assistant.report.drawing import (
    EDGES_IN,
    INCHES,
    LETTERS_PT,
    Drawing,
    marks,
    saved,
    settings,
    stacked,
    time_axis,
)
from assistant.report.page import Form
from assistant.report.story import Alarm, Call, Story
from assistant.report.terms import Terms

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MARKED = 80  # more calls than this are a line without a mark for each
MOST_FANS = 8
MOST_ALARMS = 10
GRADES = {Grade.CAUTION: "#c9a400", Grade.WARNING: "#d96b00", Grade.DANGER: "#b00020"}
STATES = ("fire", "blower", "damper", "feed", "regulator", "valve")
OPENING = {
    "crack": 0.3, "half": 0.6, "open": 1.0, "on": 1.0, "feathering": 0.4, "lifting": 1.0,
    "lit": 0.3, "built": 0.6, "coal": 1.0, "banked": 0.4,
}  # fmt: skip


def draw(story: Story, terms: Terms, form: Form) -> bytes:
    """The chart as SVG or PNG."""
    import matplotlib
    from matplotlib.figure import Figure

    moment = story.started
    day_s = 0.0 if moment is None else moment.hour * 3600.0 + moment.minute * 60 + moment.second
    drawing = Drawing(form, terms, 0.0, max(story.length_s, 600.0), day_s)
    alarms = _alarm_rows(story.alarms)
    lines = len(STATES) + 2 + 1.7 * len(alarms)
    heights = [0.2, 2.1, 1.5, 0.17 * lines + 0.1]
    with matplotlib.rc_context(settings(form)):
        figure = Figure()
        axes = stacked(figure, INCHES[form], heights, EDGES_IN)
        _phases(axes[0], story, drawing)
        _pressure(axes[1], story, drawing)
        _glass(axes[2], story, drawing)
        _events(axes[3], story, alarms, drawing)
        time_axis(axes[3], drawing)
        return saved(figure, form)


def _phases(axes: Axes, story: Story, drawing: Drawing) -> None:
    """A strip: the name where it fits, otherwise its number in the table, otherwise nothing."""
    axes.set_ylim(0, 1)
    axes.set_axis_off()
    letters = INCHES[drawing.form] * 72 * 0.85 / (LETTERS_PT[drawing.form] * 0.62)
    for number, phase in enumerate(story.phases, 1):
        end = story.length_s if phase.to_s is None else phase.to_s
        axes.axvspan(phase.from_s, end, color="#dfe6ee" if number % 2 else "#c3d0df", lw=0)
        room = (end - phase.from_s) / (drawing.to_s - drawing.from_s) * letters
        for text in (f"{number} {phase.name}", str(number)):
            if len(text) + 0.5 <= room:
                axes.text((phase.from_s + end) / 2, 0.5, text, ha="center", va="center")
                break


def _points(calls: Sequence[Call], what: str, scale: Any) -> tuple[list[float], list[float]]:
    found = [(c.at_s, scale(c.report)) for c in calls if c.report.what == what]
    kept = [(at_s, value) for at_s, value in found if value is not None]
    return [at_s for at_s, _ in kept], [value for _, value in kept]


def _line(axes: Axes, story: Story, what: str, scale: Any, colour: str) -> None:
    xs, ys = _points(story.standing, what, scale)
    axes.plot(xs, ys, color=colour, marker="o" if len(xs) <= MARKED else "", ms=3, zorder=3)
    struck = [call for call in story.calls if call.state != "stands"]
    xs, ys = _points(struck, what, scale)
    axes.plot(xs, ys, ls="", marker="x", color="#777", ms=5, zorder=2)


def _pressure(axes: Axes, story: Story, drawing: Drawing) -> None:
    terms = drawing.terms

    def scale(report: Report) -> float | None:
        if isinstance(report.value, str) or report.unit not in PRESSURE_PA:
            return None
        return pressure_gauge_pa(report) / PRESSURE_PA[terms.pressure]

    axes.set_title(f"pressure [{terms.pressure}]", loc="left")
    _fans(axes, story, drawing, scale)
    _line(axes, story, "pressure", scale, "#8a1c1c")
    top = max(_points(story.calls, "pressure", scale)[1], default=0.0)
    if story.engine is not None:
        engine = story.engine.engine
        levels_pa = [
            (engine.working_pressure_gauge_pa, "working"),
            (engine.valve_lifts_gauge_pa, "valve lifts"),
        ]
        levels = [(pa / PRESSURE_PA[terms.pressure], name) for pa, name in levels_pa]
        top = max([top, *(level for level, _ in levels)])
        marks(axes, levels, top * 1.1, drawing)
    axes.set_ylim(0, top * 1.1 or 1.0)
    axes.grid(axis="y", color="#ddd", lw=0.5)


def _glass(axes: Axes, story: Story, drawing: Drawing) -> None:
    visible = None if story.engine is None else story.engine.engine.glass.visible_m

    def scale(report: Report) -> float | None:
        if isinstance(report.value, str):
            return None
        if report.unit == "glass":
            return float(report.value)
        if visible is None or report.unit not in LENGTH_M:
            return None
        return float(report.value) * LENGTH_M[report.unit] / visible

    axes.set_title("water in the glass", loc="left")
    _line(axes, story, "water", scale, "#1d4f8a")
    lost = [c.at_s for c in story.standing if c.report == Report("water", "out of sight")]
    axes.plot(lost, [0.0] * len(lost), ls="", marker="v", color="#b00020", ms=6, clip_on=False)
    if story.engine is not None:
        glass = story.engine.engine.glass
        axes.axhspan(glass.lower_mark, glass.upper_mark, color="#e8f1e8", lw=0, zorder=0)
        marks(axes, [(glass.lower_mark, "lower"), (glass.upper_mark, "upper")], 1.0, drawing)
    axes.set_ylim(0, 1)
    axes.set_yticks([0, 0.25, 0.5, 0.75, 1], ["0", "¼", "½", "¾", "1"])
    axes.grid(axis="y", color="#ddd", lw=0.5)


def _fans(axes: Axes, story: Story, drawing: Drawing, scale: Any) -> None:
    """Each forecast as it was told: from the last call to where and when it said it would be."""
    told = [
        (at_s, made)
        for at_s, made in story.forecasts
        if made.low is not None and made.mid and made.high is not None
    ]
    step = max(1, -(-len(told) // MOST_FANS))
    xs, ys = _points(story.standing, "pressure", scale)
    for at_s, made in told[::step]:
        before = [y for x, y in zip(xs, ys, strict=True) if x <= at_s]
        if not before or made.low is None or made.mid is None or made.high is None:
            continue
        target = made.target_psi * PRESSURE_PA["psi"] / PRESSURE_PA[drawing.terms.pressure]
        ends = [at_s + 60 * minutes for minutes in (made.low, made.mid, made.high)]
        axes.fill([at_s, ends[0], ends[2]], [before[-1], target, target], color="#e08a2e",
                  alpha=0.16, lw=0, zorder=1)  # fmt: skip
        axes.plot([at_s, ends[1]], [before[-1], target], color="#c06a10", lw=0.7,
                  ls=(0, (1, 2)), zorder=1)  # fmt: skip


def _alarm_rows(alarms: Sequence[Alarm]) -> list[tuple[str, list[Alarm]]]:
    """Alarms by name, the gravest first and then as they came; the last row takes what is over."""
    names = dict.fromkeys(a.name for a in sorted(alarms, key=lambda a: -a.grade))
    rows = [(name, [a for a in alarms if a.name == name]) for name in names]
    if len(rows) > MOST_ALARMS:
        rest = [alarm for _, some in rows[MOST_ALARMS - 1 :] for alarm in some]
        kinds = len(rows) - MOST_ALARMS + 1
        rows = [*rows[: MOST_ALARMS - 1], (f"{kinds} more kinds, in the table", rest)]
    return rows


def _events(
    axes: Axes, story: Story, alarms: list[tuple[str, list[Alarm]]], drawing: Drawing
) -> None:
    """Rows from the top: what was open or burning, tests and notes, then each kind of alarm."""
    names = [*STATES, "tests", "notes"]
    for row, what in enumerate(STATES):
        _state_bars(axes, story, what, -float(row))
    tests = [s.at_s for s in story.standing if s.report.what in {"glass", "hand pump", "delivery",
             "injector", "safety valve"}]  # fmt: skip
    notes = [at_s for at_s, _ in story.notes]
    for row, times in ((len(STATES), tests), (len(STATES) + 1, notes)):
        axes.plot(times, [-float(row)] * len(times), ls="", marker="D", ms=3.5, color="#333")
    for row, (name, some) in enumerate(alarms):
        y = -(len(names) - 0.1 + 1.7 * row + 0.7)
        grade = max(alarm.grade for alarm in some)
        axes.text(0.005, y + 0.75, f"{grade.word}: {name}", va="center",
                  transform=axes.get_yaxis_transform())  # fmt: skip
        for alarm in some:
            end = story.length_s if alarm.cleared_s is None else alarm.cleared_s
            axes.plot([alarm.raised_s, max(end, alarm.raised_s)], [y, y], lw=4,
                      color=GRADES[alarm.grade], solid_capstyle="butt")  # fmt: skip
            axes.plot([alarm.raised_s], [y], marker="|", ms=7, color="#111", ls="")
    axes.set_yticks([-float(row) for row in range(len(names))], names)
    axes.set_ylim(-(len(names) + 1.7 * len(alarms) - 0.3), 0.8)
    axes.tick_params(axis="y", length=0)
    axes.spines["left"].set_visible(False)


def _state_bars(axes: Axes, story: Story, what: str, y: float) -> None:
    """A bar while it was open, on or burning; the wider it was open, the higher the bar."""
    calls = [call for call in story.standing if call.report.what == what]
    axes.axhline(y, color="#e4e4e4", lw=0.5, zorder=0)
    for call, after in zip(calls, [*calls[1:], None], strict=False):
        height = OPENING.get(str(call.report.value), 0.0) * 0.7
        end = story.length_s if after is None else after.at_s
        if height:
            axes.barh(y, end - call.at_s, left=call.at_s, height=height, color="#5c6b7a")
