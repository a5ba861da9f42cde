"""Symptom -> ordered checks: which cure is called for, and whether it has worked. Values only."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from assistant.messages import Report
from assistant.procedure.checklist import Checklist
from assistant.procedure.position import Progress, open_steps

REMEDY = "cure"  # `Report(SUBJECT, name of the cure)` is a spoken symptom
CURED = "cured"  # the state that ends a cure; "still there" leads to the next check


def remedy_calls(cures: Iterable[Checklist]) -> tuple[tuple[str, Report], ...]:
    """Every spoken symptom with the cure that it calls for."""
    return tuple((form, Report(REMEDY, c.name)) for c in cures for form in c.symptom)


def remedy_for(cures: Iterable[Checklist], report: Report) -> Checklist | None:
    """The cure that a report calls for, None when it is no symptom of ours."""
    if report.what != REMEDY:
        return None
    return next((c for c in cures if c.name == report.value), None)


def outcome(progress: Progress) -> Literal["cured", "not cured"] | None:
    """How a cure has ended; None while there is a check left."""
    if any(d.answer.endswith(f" {CURED}") for d in progress.done):
        return "cured"
    return None if open_steps(progress) else "not cured"
