"""The verdicts of many practices as tables. Knows no session and no boiler."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import fmean, median

from assistant.lab.alarms.fault_names import TROUBLES
from assistant.lab.alarms.verdict import Verdict
from assistant.lab.benches.table import Column, ResultTable
from assistant.messages import Grade

SILENT = "does nothing"
MISREADS = "misreads one in ten"

_FOUND = ResultTable(
    42, Column("grade", 9), Column("runs", 6), Column("shown", 7), Column("in time", 9),
    Column("ever", 6), Column("median s", 10, ".0f"), Column("worst s", 9, ".0f"),
    corner="fault, operator",
)  # fmt: skip
_RATES = ResultTable(
    24, Column("hours", 7, ".1f"), Column("an hour", 9, ".2f"), Column("after upset", 13, ".1f"),
    Column("at most", 9), Column("standing", 10, ".2f"), Column("at most", 9),
    Column("chatter", 9), corner="operator",
)  # fmt: skip
_FALSE = ResultTable(
    24, Column("days", 6), Column("hours", 7, ".1f"), Column("false/h", 9, ".2f"),
    Column("dangers", 9), Column("outlive", 9), corner="healthy days",
)  # fmt: skip
_GONE = ResultTable(
    24, Column("runs", 6), Column("in two", 8), Column("mark", 6), Column("before", 8),
    Column("unseen", 8), corner="silent operator",
)  # fmt: skip


def all_lines(verdicts: Sequence[Verdict]) -> Iterator[str]:
    """Every table that there is something for."""
    yield from found_lines(verdicts)
    yield from silent_lines(verdicts)
    yield from false_lines(verdicts)
    yield from rate_lines(verdicts)
    yield from worst_lines(verdicts)
    yield from not_found_lines(verdicts)
    errors = [v.name for v in verdicts if v.errors]
    yield from (f"INTERNAL ERROR: {name}" for name in errors)


def _operators(verdicts: Sequence[Verdict]) -> list[str]:
    return list(dict.fromkeys(v.operator for v in verdicts))


def _median(values: Sequence[float]) -> float | None:
    return median(values) if values else None


def found_lines(verdicts: Sequence[Verdict]) -> Iterator[str]:
    """Each fault with each operator: how often it showed, was told in time and ever; how soon."""
    ill = [v for v in verdicts if v.fault]
    if not ill:
        return
    yield "Faults: shown = a careful person with the file and the reports knows it; in time = named"
    yield "by the second report that shows it; seconds from showing to telling."
    yield _FOUND.header()
    for fault in dict.fromkeys(v.fault for v in ill):
        for operator in _operators(ill):
            runs = [v for v in ill if (v.fault, v.operator) == (fault, operator)]
            if runs:
                yield _found_row(f"{fault}, {operator}", TROUBLES[fault].grade, runs)
    yield ""
    for operator in _operators(ill):
        if operator == SILENT:
            continue  # there is no second report: the table below is his
        for grade in (Grade.DANGER, Grade.WARNING):
            runs = [
                v for v in ill
                if v.operator == operator and TROUBLES[v.fault].grade is grade and v.shown
            ]  # fmt: skip
            found = sum(v.in_time for v in runs)
            yield f"{grade.word}s found by the second report, {operator}: {found} of {len(runs)}"
    yield ""


def _found_row(label: str, grade: Grade, runs: Sequence[Verdict]) -> str:
    shown = [v for v in runs if v.shown]
    waits = [v.wait_s for v in shown if v.wait_s is not None]
    return _FOUND.row(
        label, grade.word, len(runs), len(shown), sum(v.in_time for v in shown),
        sum(v.told_at is not None for v in shown), _median(waits), max(waits, default=None),
    )  # fmt: skip


def silent_lines(verdicts: Sequence[Verdict]) -> Iterator[str]:
    """Is there a danger before the true water reaches the lower mark?"""
    silent = [v for v in verdicts if v.operator == SILENT]
    if not silent:
        return
    yield "Nobody answers: in two = a danger within two intervals of the last call of the water;"
    yield "mark = the true water reached the lower mark; before = a danger stood by then; unseen ="
    yield "none did, by a loss that began after his last report, sooner than two intervals: no"
    yield "report shows it, and who only listens cannot know it."
    yield _GONE.header()
    for fault in dict.fromkeys(v.fault for v in silent):
        runs = [v for v in silent if v.fault == fault]
        reached = [v for v in runs if v.mark_at is not None]
        before = sum(v.is_danger_before_mark for v in reached)
        in_two = sum(v.is_danger_in_two_intervals for v in runs)
        unseen = sum(v.is_mark_unseen for v in runs)
        yield _GONE.row(fault or "healthy", len(runs), in_two, len(reached), before, unseen)
    slow = [v.name for v in silent if not v.is_danger_in_two_intervals]
    yield from (f"no danger within two intervals: {name}" for name in slow)
    for v in silent:
        if not v.is_danger_before_mark:
            after = "" if v.unseen_s is None else f", {v.unseen_s / 60:.1f} min after his last call"
            yield f"no danger before the mark: {v.name}{after}"
    yield ""


def false_lines(verdicts: Sequence[Verdict]) -> Iterator[str]:
    """Alarms on healthy days that the truth denies."""
    healthy = [v for v in verdicts if not v.fault]
    if not healthy:
        return
    yield "Healthy days: false = the truth denies it; outlive = false dangers that still stand a"
    yield "minute after the second right reading of the gauge that was misread."
    yield _FALSE.header()
    for operator in _operators(healthy):
        runs = [v for v in healthy if v.operator == operator]
        hours = sum(v.seconds for v in runs) / 3600.0
        false = [one for v in runs for one in v.false]
        dangers = sum(danger for _, _, danger in false)
        outliving = sum(v.outliving for v in runs)
        yield _FALSE.row(operator, len(runs), hours, len(false) / hours, dangers, outliving)
    for v in healthy:
        yield from (f"  {v.name}: {name} at {at / 60:.0f} min" for at, name, _ in v.false)
    unjudged = sorted({name for v in healthy for name in v.unjudged})
    if unjudged:
        yield f"not judged, no truth written down for: {', '.join(unjudged)}"
    yield ""


def rate_lines(verdicts: Sequence[Verdict]) -> Iterator[str]:
    """Alarm rates as EEMUA 191 and ISA-18.2 count them."""
    yield "Alarm rates. From memory of EEMUA 191 and ISA-18.2, to be checked: about 6 an hour is"
    yield "acceptable, 12 the most that is manageable, 10 in the ten minutes after an upset,"
    yield "under 5 standing, none chattering (three times within a minute)."
    yield _RATES.header()
    for operator in _operators(verdicts):
        runs = [v for v in verdicts if v.operator == operator]
        hours = sum(v.seconds for v in runs) / 3600.0
        upsets = [v.after_upset for v in runs if v.after_upset is not None]
        yield _RATES.row(
            operator, hours, sum(len(v.raised) for v in runs) / hours,
            fmean(upsets) if upsets else None, max(upsets, default=None),
            fmean(v.standing for v in runs), max(v.most_standing for v in runs),
            sum(bool(v.chattering) for v in runs),
        )  # fmt: skip
    yield ""


def worst_lines(verdicts: Sequence[Verdict]) -> Iterator[str]:
    """The day with the longest wait, or told never, and the day with the most alarms."""
    shown = [v for v in verdicts if v.shown]
    if shown:
        worst = max(shown, key=_untold_s)
        told = "never told" if worst.told_at is None else f"told after {worst.wait_s:.0f} s"
        yield f"worst day: {worst.name}: shown at {worst.shown[0] / 60:.0f} min, {told}"
    if verdicts:
        fullest = max(verdicts, key=lambda v: v.most_in_ten_minutes)
        yield f"most alarms in ten minutes: {fullest.most_in_ten_minutes}, {fullest.name}"
    chattering = [f"{v.name} ({', '.join(v.chattering)})" for v in verdicts if v.chattering]
    yield from (f"chattering: {line}" for line in chattering)


def _untold_s(verdict: Verdict) -> tuple[bool, float]:
    """Danger first, then how long it went without a word."""
    end = verdict.seconds if verdict.told_at is None else verdict.told_at
    return TROUBLES[verdict.fault].grade is Grade.DANGER, end - verdict.shown[0]


def not_found_lines(verdicts: Sequence[Verdict]) -> Iterator[str]:
    """Faults that showed and were not named, with their seeds."""
    missed: dict[tuple[str, str], list[int]] = {}
    for v in verdicts:
        if v.shown and v.told_at is None:
            missed.setdefault((v.fault, v.operator), []).append(v.seed)
    for (fault, operator), seeds in missed.items():
        yield f"never named: {fault}, {operator}: seeds {', '.join(map(str, seeds))}"
