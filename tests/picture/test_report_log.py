"""The report log keeps what was folded from it, as long as that is true."""

from __future__ import annotations

from picture_story import PRACTICE, glass, log_of, psi

from assistant.messages import Report
from assistant.picture.readings import level_step, pressure_step, pressures, waters
from assistant.picture.report_log import TimedReport


def test_results_on_one_subject_are_kept_apart_by_name() -> None:
    log = log_of((0, psi(5)), (1, psi(10)))
    assert log.once_of("pressure", len, "how many") == 2
    assert log.once_of("pressure", lambda told: told[0].at, "first") == 0.0
    assert log.once_of("pressure", lambda told: -1, "how many") == 2, "worked out once"


def test_a_report_more_forgets_the_results_on_its_own_subject_only() -> None:
    log = log_of((0, psi(5)), (1, glass(0.5)))
    asked: list[str] = []

    def count(told: tuple[TimedReport, ...]) -> int:
        asked.append(told[0].report.what)
        return len(told)

    for subject in ("pressure", "water"):
        log.once_of(subject, count)
    longer = log.and_one(TimedReport(psi(6), 120.0))
    assert (longer.once_of("pressure", count), longer.once_of("water", count)) == (2, 1)
    assert asked == ["pressure", "water", "pressure"]


def test_readings_as_numbers_in_order() -> None:
    log = log_of(
        (0, Report("pressure", "on the pin")),
        (1, Report("pressure", 1.0, "bar")),
        (2, Report("pressure", 3.0, "furlong")),
        (3, Report("water", "out of sight")),
        (4, Report("water", 80.0, "mm")),
    )
    assert [r.value for r in pressures(log, PRACTICE)] == [0.0, 100_000.0]
    assert [r.value for r in waters(log, PRACTICE)] == [None, 0.5]


def test_the_steps_in_which_they_are_called() -> None:
    log = log_of((0, glass(0.5)), (1, glass(0.625)), (2, psi(5)), (3, psi(10)))
    assert level_step(log, PRACTICE) == 0.125
    assert pressure_step(log, PRACTICE) == pressures(log_of((0, psi(5))), PRACTICE)[0].value


def test_a_fire_told_again_counts_from_the_first_and_anew_after_it_was_out() -> None:
    lit, drawn = Report("fire", "lit"), Report("fire", "drawn")
    assert log_of((10, lit), (70, lit)).lit_at == 600.0
    assert log_of((10, lit), (70, lit), (100, drawn)).lit_at is None
    assert log_of((10, lit), (70, lit), (100, drawn), (200, lit)).lit_at == 12000.0
