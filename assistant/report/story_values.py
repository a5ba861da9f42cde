"""What a story of a steam-up is made of: calls, refusals, phases, steps and alarms. Values only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.messages import Grade, Report

CallState = Literal["stands", "corrected", "taken back"]


@dataclass(frozen=True, slots=True)
class Call:
    """A reading in the journal."""

    at_s: float
    """when it was called; for a correction, when the reading it replaces was"""
    report: Report
    state: CallState = "stands"
    changed_at_s: float | None = None
    """when it was taken back, corrected, or put in the place of another"""
    instead: Report | None = None
    """the reading it replaces"""
    asked: str = ""
    """why it was asked again before it was accepted; empty: it was not"""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Something heard and not accepted, and why."""

    at_s: float
    report: Report | None
    reason: str


@dataclass(frozen=True, slots=True)
class Interval:
    """A phase from when to when; to_s None: it was not ended."""

    name: str
    from_s: float
    to_s: float | None = None


@dataclass(frozen=True, slots=True)
class ShownStep:
    """A step of the walk-through. answer None: not answered (asked, or left open aloud).

    Both `skipped` and an answer: left out for the day, for that reason.
    """

    at_s: float
    phase: str
    name: str
    answer: str | None = None
    skipped: bool = False
    overtaken: str = ""
    """What the engine was when the step's time was over; "" = it was not overtaken."""


@dataclass(frozen=True, slots=True)
class ShownAlarm:
    """One raising of an alarm, and what became of it."""

    name: str
    grade: Grade
    """the gravest that it had"""
    raised_s: float
    reason: str
    """the figures it was raised by"""
    acknowledged_s: float | None = None
    shelved_s: float | None = None
    cleared_s: float | None = None
