"""Symptom -> ordered checks: which remedy is called for, and whether it worked. Values only."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from assistant.messages import Report
from assistant.procedure.checklist import Checklist
from assistant.procedure.position import Progress, open_steps

REMEDY = "cure"  # `Report(REMEDY, name)` is a spoken symptom
CURED = "cured"  # the state that ends a remedy ...
STILL_THERE = "still there"  # ... and the one that leads to its next check

GAUGE_TROUBLE = "gauge_trouble"
TAKING_OVER = "taking_over"  # a list of questions about an engine that is warm, no remedy


def remedy_calls(remedies: Iterable[Checklist]) -> tuple[tuple[str, Report], ...]:
    """Every spoken symptom with the remedy that it calls for."""
    return tuple((form, Report(REMEDY, r.name)) for r in remedies for form in r.symptom)


def remedy_for(remedies: Iterable[Checklist], report: Report) -> Checklist | None:
    """The remedy that a report calls for; None when it is not one of their symptoms."""
    if report.what != REMEDY:
        return None
    return next((r for r in remedies if r.name == report.value), None)


def outcome(progress: Progress) -> Literal["cured", "not cured"] | None:
    """How a remedy ended; None while a check is left, or, though it worked, a hold is open."""
    left = [step for step in open_steps(progress) if step.id not in progress.left]
    if any(d.answer.endswith(f" {CURED}") for d in progress.done):
        return None if any(step.hold for step in left) else "cured"
    return None if left else "not cured"
