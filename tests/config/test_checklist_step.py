"""One step of a checklist: what makes it one, and which of its keys contradict each other."""

from __future__ import annotations

import pytest

from assistant.config.checklist_step import bound_in, step_of
from assistant.config.positioned_yaml import Problems, parse
from assistant.procedure.checklist import NO_SOURCE, Bound, Step

STEP = """\
id: gear is out
say: Is the gear out?
asks: gear
kind: state
answers:
  - {state: out, say: gear is out}
  - {state: in, say: gear is in, passes: no, then: Put it out first.}
why: She must not move off.
source: common practice, no source
"""


def read(text: str, extending: bool = False) -> tuple[Step | None, list[str]]:
    problems = Problems("c.yaml")
    table = parse(text, problems)
    assert table is not None
    step = step_of(problems, table, "c.yaml", extending)
    return step, [str(problem).removeprefix("c.yaml:") for problem in problems.sorted()]


def test_what_is_left_out_takes_its_default() -> None:
    step, problems = read(STEP)
    assert problems == []
    assert step is not None
    assert [(reply.state, reply.passes) for reply in step.replies] == [("out", True), ("in", False)]
    assert (step.killer, step.hold, step.limits, step.due, step.again) == (
        False, False, None, None, "",
    )  # fmt: skip
    assert (step.source, step.file, step.line) == (NO_SOURCE, "c.yaml", 1)


@pytest.mark.parametrize("key", ["id", "say", "asks", "kind"])
def test_without_one_of_these_there_is_no_step(key: str) -> None:
    text = "".join(line for line in STEP.splitlines(True) if not line.startswith(f"{key}:"))
    step, problems = read(text)
    assert step is None
    assert f"1:1: '{key}' is missing in this step" in problems


@pytest.mark.parametrize(
    ("old", "new", "problem"),
    [
        ("state: in,", "state: out,", "7:13: 'state': 'out' is given twice"),
        ("say: gear is in,", "say: gear is out,", "'gear is out' would mean both 'out' and 'in'"),
        ("say: gear is in,", "say: Gear 2,", "7:22: 'say': 'Gear 2': lower-case words only"),
        (", then: Put it out first.", "", "7:5: an answer that does not pass needs 'then'"),
        ("{state: out, say: gear is out}", "{state: out, say: gear is out, passes: no, then: No.}",
         "'answers': no answer passes, the step never ends"),
        ("kind: state", "kind: state\nat_least: 0.5\ntoo_low: No.", "'at_least' belongs to a step"),
        ("kind: state", "kind: value", "'asks': no value is read of 'gear'"),
        ("kind: state", "kind: act\nkiller: yes", "'killer': answered by a value or a state"),
        ("kind: state", "kind: state\nput_after: x", "'put_after' needs a list that 'extends'"),
        ("kind: state", "kind: state\nwhile: cald", "5:8: 'while': unknown 'cald' (did you"),
        ("kind: state", "kind: state\nproves: water sen", "5:9: 'proves': unknown 'water sen'"),
        ("kind: state", "kind: state\nwarm: a/b/c", "5:7: 'warm': a step is wanted, or 'list/s"),
        ("kind: state", "kind: state\nwarm: raising_steam/", "5:7: 'warm': a step is wanted"),
        ("kind: state", "kind: state\ngain_on: x\nno_gain: No.", "5:1: 'gain_on' belongs to a st"),
        ("kind: state", "kind: state\nno_gain: No.", "5:1: 'no_gain' needs 'gain_on' beside it"),
        ("Is the gear out?", "a b c d e f g h i j k l m", "2:6: 'say': 13 words; at most 12"),
    ],
)  # fmt: skip
def test_each_contradiction_is_a_problem(old: str, new: str, problem: str) -> None:
    assert old in STEP
    _, problems = read(STEP.replace(old, new))
    assert any(problem in found for found in problems), problems


def test_what_a_step_is_meant_for_proves_and_leaves_behind() -> None:
    more = "while: cold\nproves: gear out\nwarm: tick_over / out of gear\n"
    step, problems = read(STEP + more)
    assert problems == []
    assert step is not None
    assert (step.while_, step.proves, step.warm) == ("cold", "gear out", "tick_over/out of gear")


def test_only_a_list_that_extends_another_says_where_a_step_is_put() -> None:
    step, problems = read(STEP + "put_after: regulator shut\n", extending=True)
    assert problems == []
    assert step is not None and step.put_after == "regulator shut"


@pytest.mark.parametrize(
    ("text", "subject", "bound"),
    [
        ("lower mark", "water", Bound("lower mark", 1.0)),
        ("0.5 of working pressure", "pressure", Bound("working pressure", 0.5)),
        ("100 kPa", "pressure", Bound(value=100_000.0)),
        ("0.75", "water", Bound(value=0.75)),
    ],
)
def test_a_limit(text: str, subject: str, bound: Bound) -> None:
    assert bound_in(text, subject) == bound


@pytest.mark.parametrize(
    ("text", "subject", "reason"),
    [
        ("lower mark", "pressure", "is a water, not a pressure"),
        ("2.5 of working pressure", "pressure", "the part is a number up to 2"),
        ("3 bar abs", "pressure", "a limit is a gauge pressure"),
        ("1.5", "water", "is no fraction from 0 to 1"),
        ("lower marc", "water", "is no limit .did you mean 'lower mark'"),
    ],
)
def test_what_is_no_limit(text: str, subject: str, reason: str) -> None:
    with pytest.raises(ValueError, match=reason):
        bound_in(text, subject)
