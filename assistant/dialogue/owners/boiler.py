"""Owner of `state.believed`: what is believed of the boiler, and the estimates made of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from assistant.belief import estimate
from assistant.dialogue.estimates import LazyEstimates
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Believed
from assistant.messages import Report

_Result = TypeVar("_Result")


def _put(context: EventContext, believed: Believed) -> None:
    context.become(replace(context.state, believed=believed))


def predict(context: EventContext, at: float) -> None:
    """What is believed at the time of the event."""
    believed = context.state.believed
    _put(context, replace(believed, belief=estimate.predict(believed.belief, at)))


def enter(context: EventContext, report: Report, at: float) -> None:
    """Take a report made at a time into the belief."""
    believed = context.state.believed
    belief = estimate.update(believed.belief, as_feed(report), at)
    _put(context, replace(believed, belief=belief))


def retract(context: EventContext, report: Report, at: float) -> None:
    """Take a report out of the belief again."""
    believed = context.state.believed
    belief = estimate.retracted(believed.belief, as_feed(report), at)
    _put(context, replace(believed, belief=belief))


def renew_estimates(context: EventContext, estimates: LazyEstimates) -> None:
    """The estimates made now."""
    belief = context.state.believed.belief
    _put(context, Believed(belief, estimates, context.at))


def estimated(
    context: EventContext, of: Callable[[LazyEstimates], _Result], unknown: _Result
) -> _Result:
    """One of the estimates; when it fails, all are unknown until they are made again."""
    try:
        return of(context.state.believed.estimates)
    except Exception as bug:
        _put(context, replace(context.state.believed, estimates=LazyEstimates()))
        context.report_fault(bug)
        return unknown


def as_feed(report: Report) -> Report:
    """The report as the belief takes it: the pump's bypass shut is a feed, open it is none."""
    if report.what != "bypass":
        return report
    return Report("feed", "on" if report.value == "shut" else "off")
