"""Where the lettering of a chart is, and which of it overlaps."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Any

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text


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
    """Labels that overlap another or run off the drawing."""
    shown = [(label, box) for label, box in texts(figure) if box.width > 0]
    found = [f"{a} on {b}" for (a, x), (b, y) in combinations(shown, 2) if x.overlaps(y)]
    found += [
        f"{label} off the drawing"
        for label, box in shown
        if box.x0 < 0 or box.y0 < 0 or box.x1 > figure.bbox.x1 or box.y1 > figure.bbox.y1
    ]
    return found
