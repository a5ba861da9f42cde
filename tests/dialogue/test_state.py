"""The report log: by subject, cached, and the same whether grown or made at once."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from session_story import in_steam

from assistant.messages import Report
from assistant.picture.report_log import ReportLog, TimedReport

REPORTS = st.tuples(
    st.sampled_from(["fire", "water", "valve"]), st.sampled_from(["lit", "drawn", "shut"])
)


def timed(subject: str, value: str, at: float) -> TimedReport:
    return TimedReport(Report(subject, value), at)


def states_of(log: ReportLog) -> list[str]:
    return [f"{s.report.what} {s.report.value} {s.at}" for s in log]


@given(st.lists(REPORTS, max_size=12))
def test_a_log_that_grew_is_the_log_made_at_once(said: list[tuple[str, str]]) -> None:
    """However often results are asked for on the way: no cached result outlives its reports."""
    grown = ReportLog()
    for at, (subject, value) in enumerate(said):
        grown = grown.and_one(timed(subject, value, float(at)))
        grown.once("all", states_of)
        for each in ("fire", "water", "valve"):
            grown.once_of(each, len)
    made = ReportLog(timed(subject, value, float(at)) for at, (subject, value) in enumerate(said))
    assert grown == made
    assert list(grown.subjects) == list(made.subjects)
    assert grown.lit_at == made.lit_at
    assert grown.once("all", states_of) == states_of(made)
    for each in ("fire", "water", "valve"):
        assert grown.of(each) == tuple(s for s in made if s.report.what == each)
        assert grown.once_of(each, len) == len(made.of(each))


def test_a_result_is_computed_once_for_the_same_reports() -> None:
    log, calls = ReportLog([timed("fire", "lit", 3.0)]), []

    def count(reports: tuple[TimedReport, ...]) -> int:
        calls.append(len(reports))
        return len(reports)

    assert [log.once_of("fire", count) for _ in range(3)] == [1, 1, 1]
    water = log.and_one(timed("water", "shut", 4.0))
    assert water.once_of("fire", count) == 1, "a report of something else changes nothing"
    assert water.and_one(timed("fire", "drawn", 5.0)).once_of("fire", count) == 2
    assert calls == [1, 2]


def test_the_fire_is_in_until_it_is_drawn() -> None:
    story = in_steam()
    assert story.session.state.fire_in is False, "nothing was said of it yet"
    story.say("fire lit")
    lit_at = story.at
    assert story.session.state.fire_in and story.session.state.lit_at == lit_at
    story.say("fire drawn")
    assert not story.session.state.fire_in
    assert story.session.state.latest_is("fire", "drawn")
    assert story.session.state.latest("nothing known of this") is None
