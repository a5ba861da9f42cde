"""How times, dates and quantities are written on a page, as the owner sets them. Pure."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from assistant.boiler.scales import PRESSURE_PA, pressure_gauge_pa
from assistant.messages import Report

DATES = {"iso": "%Y-%m-%d", "day": "%d %b %Y", "month": "%b %d, %Y"}


@dataclass(frozen=True, slots=True)
class Terms:
    """The owner's way of writing quantities."""

    pressure: str = "psi"
    """unit of pressures"""
    dates: str = "iso"
    """key of `DATES`"""

    def date(self, moment: datetime.date | None) -> str:
        """A date, or that there is none."""
        return "not known" if moment is None else moment.strftime(DATES[self.dates])

    def gauge(self, gauge_pa: float) -> str:
        """A gauge pressure in the owner's unit.

        >>> Terms("bar").gauge(620_000.0)
        '6.2 bar'
        """
        return f"{self.number(gauge_pa):g} {self.pressure}"

    def number(self, gauge_pa: float) -> float:
        """A gauge pressure in the owner's unit, rounded as finely as a dial is read."""
        scaled = gauge_pa / PRESSURE_PA[self.pressure]
        return round(scaled, 0 if self.pressure in {"psi", "kPa"} else 2)

    def report(self, report: Report) -> str:
        """The value of a reading: as it was called, and in the owner's unit where that differs.

        >>> Terms("psi").report(Report("pressure", 5.0, "bar"))
        '5 bar (73 psi)'
        >>> Terms().report(Report("water", 2 / 3, "glass"))
        '⅔ of the glass'
        >>> Terms().report(Report("tank", 1, "tank"))
        'full tank'
        """
        if not isinstance(report.value, str) and report.unit in _FRACTIONAL_UNITS:
            return _fraction(report.value, report.unit)
        value = report.value if isinstance(report.value, str) else _short(report.value)
        if report.unit is None:
            return value
        called = f"{value} {_name(report.unit)}"
        if report.what == "pressure" and report.unit != self.pressure:
            return f"{called} ({self.gauge(pressure_gauge_pa(report))})"
        return called


_FRACTIONAL_UNITS = {"glass", "tank"}
_FRACTIONS = {
    1 / 8: "⅛", 1 / 4: "¼", 1 / 3: "⅓", 3 / 8: "⅜", 1 / 2: "½", 5 / 8: "⅝", 2 / 3: "⅔",
    3 / 4: "¾", 7 / 8: "⅞",
}  # fmt: skip

_ENDS = {
    "glass": ("bottom of the glass", "top of the glass"), "tank": ("empty tank", "full tank"),
}  # fmt: skip


def _fraction(value: float, whole: str) -> str:
    """A fraction of the glass or the tank as people say it, otherwise as a number."""
    if value in (0, 1):
        return _ENDS[whole][int(value)]
    near = next((sign for part, sign in _FRACTIONS.items() if abs(value - part) < 0.001), None)
    return f"{near or _short(value)} of the {whole}"


def _short(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")


def _name(unit: str) -> str:
    return unit.replace("_", " ")


def time_since_start(at_s: float) -> str:
    """Time since the start.

    >>> time_since_start(3750.4)
    '1:02:30'
    """
    whole = round(at_s)
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"


def duration(span_s: float) -> str:
    """A length of time, for people.

    >>> duration(5078.0), duration(40.0)
    ('1 h 25 min', '40 s')
    """
    if span_s < 90:
        return f"{span_s:.0f} s"
    minutes = round(span_s / 60)
    return f"{minutes // 60} h {minutes % 60:02d} min" if minutes >= 60 else f"{minutes} min"


def time_of_day(started: datetime.datetime | None, at_s: float) -> str:
    """The time of day, and how many days later it is; without a start, the time since it.

    >>> time_of_day(datetime.datetime(2027, 5, 1, 23, 0), 3700.0)
    '00:01:40 (+1 day)'
    """
    if started is None:
        return time_since_start(at_s)
    moment = started + datetime.timedelta(seconds=round(at_s))
    days = (moment.date() - started.date()).days
    later = f" (+{days} day{'s' if days > 1 else ''})" if days else ""
    return f"{moment:%H:%M:%S}{later}"
