"""What every chart shares: sizes in inches, fonts, the time axis, marks that do not overlap.

Knows the plotting library; no story and no page.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from assistant.report.page import Form
from assistant.report.terms import Terms

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

INCHES = {"wide svg": 7.3, "narrow svg": 3.9, "png": 7.3}
FONT_PT = {"wide svg": 8.0, "narrow svg": 8.5, "png": 8.0}
DOTS_AN_INCH = 200
EDGES_IN = (0.72, 0.78, 0.45, 0.27)
TOP_IN = 0.25
STEPS_S = (60, 120, 300, 600, 900, 1800, 3600, 7200, 10_800, 21_600, 43_200, 86_400, 172_800)


@dataclass(frozen=True)
class Drawing:
    """How a chart is drawn."""

    form: Form
    terms: Terms
    """how quantities are written"""
    from_s: float
    """left end of the time axis [s]"""
    to_s: float
    """right end of the time axis [s]"""
    day_s: float = 0.0
    """second of the day at the start, 0 when no clock is known"""

    @property
    def narrow(self) -> bool:
        """Whether it is drawn for a telephone."""
        return self.form == "narrow svg"


def settings(form: Form) -> dict[Any, Any]:
    """The plotting library's settings for a form."""
    return {
        "font.family": "DejaVu Sans", "font.size": FONT_PT[form], "svg.fonttype": "path",
        "svg.hashsalt": form, "axes.spines.top": False, "axes.spines.right": False,
        "axes.linewidth": 0.6, "lines.linewidth": 1.3, "axes.titlesize": FONT_PT[form],
        "path.simplify": True,
    }  # fmt: skip


def stacked(
    figure: Figure, width_in: float, heights_in: Sequence[float], edges_in: Sequence[float]
) -> list[Axes]:
    """Axes one above another on one time axis, measured in inches so that nothing overlaps.

    edges_in: left, right, bottom and between.
    """
    left, right, bottom, between = edges_in
    whole = bottom + sum(heights_in) + between * (len(heights_in) - 1) + TOP_IN
    figure.set_size_inches(width_in, whole)
    axes: list[Axes] = []
    top = whole - TOP_IN
    for height in heights_in:
        place = (
            left / width_in,
            (top - height) / whole,
            (width_in - left - right) / width_in,
            height / whole,
        )
        axes.append(figure.add_axes(place, sharex=axes[0] if axes else None))
        axes[-1].tick_params(labelbottom=height is heights_in[-1])
        top -= height + between
    return axes


def saved(figure: Figure, form: Form) -> bytes:
    """The figure's bytes; the same figure gives the same bytes."""
    buffer = io.BytesIO()
    if form == "png":
        figure.savefig(buffer, format="png", dpi=DOTS_AN_INCH)
    else:
        figure.savefig(buffer, format="svg", metadata={"Date": None, "Creator": None})
    return buffer.getvalue()


def time_axis(axes: Axes, drawing: Drawing) -> None:
    """Ticks at round times, the time of day where the clock is known."""
    most = 5 if drawing.narrow else 9
    span = drawing.to_s - drawing.from_s
    step = next((s for s in STEPS_S if span / s <= most), STEPS_S[-1])
    first = -(drawing.day_s % step) % step
    ticks = [first + i * step for i in range(int((drawing.to_s - first) // step) + 1)]
    axes.set_xlim(drawing.from_s, drawing.to_s)
    axes.set_xticks(ticks, [_hour(drawing.day_s + at) for at in ticks])
    axes.set_xlabel("time of day" if drawing.day_s else "hours since the start")


def _hour(at_s: float) -> str:
    minutes = round(at_s / 60)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def marks(axes: Axes, levels: Sequence[tuple[float, str]], top: float, drawing: Drawing) -> None:
    """Dashed lines, each named beside the right edge, the names moved apart where they are near."""
    gap = top * (0.09 if not drawing.narrow else 0.1)
    places = spread([level for level, _ in levels], gap)
    for (level, name), place in zip(levels, places, strict=True):
        axes.axhline(level, color="#444", ls=(0, (4, 3)), lw=0.8, zorder=1)
        axes.annotate(
            name, (1.01, place), xycoords=("axes fraction", "data"), va="center", ha="left"
        )


def spread(levels: Sequence[float], gap: float) -> list[float]:
    """The levels (rising) moved up until neighbours are `gap` apart.

    >>> spread([1.0, 1.1, 5.0], 0.5)
    [1.0, 1.5, 5.0]
    """
    placed: list[float] = []
    for level in levels:
        placed.append(level if not placed else max(level, placed[-1] + gap))
    return placed
