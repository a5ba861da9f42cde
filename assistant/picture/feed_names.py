"""The feeds of an engine, and which of them a report is about. Pure."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3
from assistant.messages import Report
from assistant.procedure.scale import glass_litres, options

FeedName = Literal["pump", "hand pump", "injector"]

_OPTION_OF: dict[FeedName, str] = {
    "pump": "geared pump", "hand pump": "hand pump", "injector": "injector",
}  # fmt: skip
_TROUBLE: dict[str, tuple[FeedName, ...]] = {
    "pump": ("pump", "hand pump"),
    "injector": ("injector",),
}


@lru_cache(maxsize=64)
def feeds_of(engine: Engine) -> tuple[FeedName, ...]:
    """The engine's feeds; a pump where its file names none."""
    fitted = options(engine)
    return tuple(name for name, option in _OPTION_OF.items() if option in fitted) or ("pump",)


@lru_cache(maxsize=64)
def delivery_per_s(engine: Engine, feed: FeedName) -> float | None:
    """What a feed gives by the engine's file [of the glass in a second]; None: not told.

    The file's figure is the geared pump's, and the hand pump's where there is no geared one.
    """
    feeds = feeds_of(engine)
    owner = "pump" if "pump" in feeds else "hand pump"
    if engine.pump_m3_per_s is None or feed != owner:
        return None
    return engine.pump_m3_per_s / LITRE_M3 / glass_litres(engine)


def feed_in(
    report: Report, feeds: tuple[FeedName, ...], last: FeedName | None, standing: bool
) -> FeedName | None:
    """Which feed a report is about; None for a report about none.

    `last`: the feed last named or run, to which a report without a name belongs. `standing`: the
    regulator is shut, and a pump that the engine turns is not meant.
    """
    match report.what:
        case "bypass":
            return "pump"
        case "injector":
            return "injector"
        case "hand pump":
            return "hand pump"
        case "feed" if standing and report.value == "on" and last in (None, "pump"):
            return next((name for name in feeds if name != "pump"), feeds[0])
        case "feed" | "delivery" | "pipe" | "feed test":
            return last or feeds[0]
        case "cure" if isinstance(report.value, str):
            return _in_trouble(report.value.removesuffix("_trouble"), feeds, last)
        case "pump trouble" | "injector trouble":
            return _in_trouble(report.what.removesuffix(" trouble"), feeds, last)
    return None


def _in_trouble(kind: str, feeds: tuple[FeedName, ...], last: FeedName | None) -> FeedName | None:
    """The feed that a trouble is about: the one last run, if it is of that kind."""
    of_kind = _TROUBLE.get(kind)
    if of_kind is None:
        return None
    if last in of_kind:
        return last
    return next((name for name in feeds if name in of_kind), of_kind[0])
