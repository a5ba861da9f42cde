"""Owner of `state.told`: what was told, forecast and announced."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Told
from assistant.messages import ForecastMade
from assistant.wording.dial_units import in_dial


def _put(context: EventContext, told: Told) -> None:
    if told != context.state.told:
        context.become(replace(context.state, told=told))


def said(context: EventContext, text: str) -> None:
    """The last sentence."""
    _put(context, replace(context.state.told, last_said=text))


def because(context: EventContext, why: str) -> None:
    """The reason of what is told now, its pressures in the unit of the dial."""
    _put(context, replace(context.state.told, why=in_dial(why, context.dial)))


def forecast(context: EventContext, made: ForecastMade | None, at: float) -> None:
    """The forecast that was last spoken or asked for, and when it was made."""
    _put(context, replace(context.state.told, forecast=made, forecast_at=at))


def plan(context: EventContext, at: float, margin_s: float) -> None:
    """When working pressure is expected, and how far off that may be."""
    _put(context, replace(context.state.told, plan_at=at, plan_margin_s=margin_s))


def first_steam_by(context: EventContext, at: float | None) -> None:
    """The latest time at which the gauge should move."""
    _put(context, replace(context.state.told, first_steam_by=at))


def trend(context: EventContext, now: tuple[str, str]) -> None:
    """How the water moves and why."""
    _put(context, replace(context.state.told, trend=now))


def trend_announced(context: EventContext, now: tuple[str, str]) -> None:
    """The trend that was spoken."""
    _put(context, replace(context.state.told, trend_announced=now))


def valve_warned(context: EventContext) -> None:
    """It was said that the valve lifts again and again."""
    _put(context, replace(context.state.told, valve_warned_at=context.at))


def feed_checked(context: EventContext, began_at: float) -> None:
    """The gain of the feed that began then was compared with the glass."""
    _put(context, replace(context.state.told, feed_checked=began_at))
