"""Checklist files: the text form of checklists/README.md, and every mistake at its place."""

# ruff: noqa: E501  # a table reads better with one mistake a line
from __future__ import annotations

from pathlib import Path

import pytest

from assistant.config.checklist_file import checklist_from_text, shipped_checklists
from assistant.errors import FileWrongError
from assistant.messages import Report
from assistant.procedure.checklist import Bound, Checklist, Limits, Phase, Reply

GOOD = """\
name: firing
title: Firing
phase: firing
opening: Firing. Water first, then the match.
steps:
  - id: water before the match
    say: Where is the water?
    asks: water
    kind: value
    at_least: lower mark
    at_most: 0.9
    too_low: Do not light. Fill first.
    too_high: Let some out first.
    answers:
      - state: out of sight
        say: [no water in sight, nothing in the glass]
        passes: no
        then: Do not light.
    killer: yes
    hold: yes
    why: The plates must be covered.
    source: common practice, no source
  - id: fire lit
    say: Light the fire.
    asks: fire
    kind: act
    answers:
      - {state: lit, say: fire is lit}
    after: [water before the match]
    due: 0.5 of working pressure
    when: [injector, not hand pump]
    minutes: 5
    why: It is cold.
    source: common practice, no source
"""


def load(text: str, bases: dict[str, str] | None = None) -> Checklist:
    return checklist_from_text(text, Path("c.yaml"), bases)


def problems(text: str) -> list[str]:
    with pytest.raises(FileWrongError) as caught:
        load(text)
    return [str(problem).removeprefix("c.yaml:") for problem in caught.value.problems]


def test_everything_that_is_written_is_in_the_steps() -> None:
    checklist = load(GOOD)
    water, lit = checklist.steps
    assert checklist.phase is Phase.FIRING
    assert checklist.opening == "Firing. Water first, then the match."
    assert water.limits == Limits(
        Bound("lower mark"), Bound(value=0.9), "Do not light. Fill first.", "Let some out first."
    )
    spoken = ("no water in sight", "nothing in the glass")
    assert water.replies == (Reply("out of sight", spoken, False, "Do not light."),)
    assert (water.killer, water.hold, water.line, water.file) == (True, True, 6, "c.yaml")
    assert (lit.killer, lit.minutes, lit.after) == (False, 5.0, ("water before the match",))
    assert lit.due == Bound("working pressure", 0.5)
    assert lit.when == ("injector", "not hand pump")
    assert lit.answers() == (("fire is lit", Report("fire", "lit")),)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("    say: Light the fire.\n", "", "23:5: 'say' is missing in this step"),
        ("    say: Light the fire.\n", "    sai: Light the fire.\n", "24:5: unknown key 'sai' (did you mean 'say'?)"),
        ("Light the fire.", "Light the fire " + "now " * 10, "24:10: 'say': 13 words; at most 12"),
        ("kind: act", "kind: deed", "26:11: 'kind': unknown 'deed' (one of: value, state, act)"),
        ("phase: firing", "phase: fireing", "3:8: 'phase': unknown 'fireing' (did you mean 'firing'?)"),
        ("phase: firing\n", "", "1:1: neither 'phase' nor 'symptom'"),
        ("phase: firing\n", "phase: firing\nsymptom: [it is cold]\n", "4:1: 'symptom' belongs to a cure"),
        ("[water before the match]", "[water before a match]", "29:13: 'after': no step 'water before a match' (did you mean 'water before the match'?)"),
        ("[water before the match]", "[fire lit]", "29:13: 'after': the step names itself"),
        ("killer: yes", "killer: perhaps", "19:13: 'killer': yes or no, not 'perhaps'"),
        ("at_least: lower mark", "at_least: lower marc", "10:15: 'at_least': 'lower marc' is no limit (did you mean 'lower mark'?)"),
        ("at_least: lower mark", "at_least: working pressure", "10:15: 'at_least': 'working pressure' is a pressure, not a water"),
        ("at_most: 0.9", "at_most: 9", "11:14: 'at_most': '9' is no fraction from 0 to 1"),
        ("at_most: 0.9", "at_most: 0.9 of upper mark of", "11:14: 'at_most': '0.9 of upper mark of' is no limit"),
        ("    too_low: Do not light. Fill first.\n", "", "10:5: 'at_least' needs 'too_low' beside it"),
        ("0.5 of working pressure", "15 pis", "30:10: 'due': 'pis' is no unit of pressure (did you mean 'psi'?)"),
        ("0.5 of working pressure", "0.5 of lower mark", "30:10: 'due': 'lower mark' is a water, not a pressure"),
        ("0.5 of working pressure", "15 psi abs", "30:10: 'due': a limit is a gauge pressure"),
        ("state: lit", "state: litt", "28:17: 'state': no fire is 'litt' (did you mean 'lit'?)"),
        ("[no water in sight, nothing in the glass]", "[no water in sight, Nothing in it]", "16:34: 'say': 'Nothing in it': lower-case words only"),
        ("say: fire is lit", "say: Fire lit 2", "28:27: 'say': 'Fire lit 2': lower-case words only"),
        ("        then: Do not light.\n", "", "15:9: an answer that does not pass needs 'then'"),
        ("minutes: 5", "minutes: five", "32:14: 'minutes': 'five' is not a plain number"),
        ("minutes: 5", "minutes: -5", "32:14: 'minutes': -5 is outside 0 to 600"),
        ("name: firing", "name: firing\nleave_out: [x]", "2:1: 'leave_out' needs 'extends'"),
    ],
)  # fmt: skip
def test_each_mistake_at_its_place(old: str, new: str, expected: str) -> None:
    assert old in GOOD
    told = problems(GOOD.replace(old, new))
    assert told[0].startswith(expected), told
    assert len(told) == 1, told


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("kind: value", "kind: state", "10:5: 'at_least' belongs to a step of kind 'value'"),
        ("kind: value", "kind: state", "15:7: 'answers': no answer passes, the step never ends"),
        ("    kind: act\n", "    kind: act\n    killer: yes\n", "27:13: 'killer': answered by a value or a state"),
        ("asks: water", "asks: gear", "8:11: 'asks': no value is read of 'gear'"),
        ("id: fire lit\n", "id: water before the match\n", "23:9: 'id': 'water before the match' is also the step in line 6"),
        ("    hold: yes\n", "    put_after: x\n", "20:5: 'put_after' needs a list that 'extends' another"),
        ("steps:\n", "steps: none\nmore:\n", "5:8: 'steps': a list is wanted"),
    ],
)  # fmt: skip
def test_mistakes_that_bring_others_with_them(old: str, new: str, expected: str) -> None:
    told = problems(GOOD.replace(old, new))
    assert any(line.startswith(expected) for line in told), told


def test_all_problems_at_once_in_the_order_of_the_file() -> None:
    text = GOOD.replace("phase: firing", "phase: x").replace("lower mark", "y")
    text = text.replace("[water before the match]", "[z]").replace("minutes: 5", "minutes: w")
    assert [int(line.split(":")[0]) for line in problems(text)] == [3, 10, 29, 32]


def test_one_form_of_words_for_two_answers_is_told() -> None:
    two = "answers:\n      - {state: lit, say: it is so}\n      - {state: drawn, say: it is so}\n"
    text = GOOD.replace("answers:\n      - {state: lit, say: fire is lit}\n", two)
    assert problems(text) == ["28:7: 'answers': 'it is so' would mean both 'lit' and 'drawn'"]


OWN = """\
name: my firing
title: My firing
extends: base
leave_out: [fire lit]
steps:
  - id: chimney lid
    say: Lid off the chimney?
    asks: chimney lid
    kind: state
    answers: [{state: "off", say: lid is off}]
    why: It smokes.
    source: common practice, no source
    put_after: water before the match
"""


BASES = {"base": GOOD}


def test_an_owners_list_is_laid_over_ours() -> None:
    checklist = load(OWN, BASES)
    assert [step.id for step in checklist.steps] == ["water before the match", "chimney lid"]
    assert checklist.phase is Phase.FIRING
    assert [Path(step.file).name for step in checklist.steps] == ["base.yaml", "c.yaml"]


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("extends: base", "extends: bass", "c.yaml:3:10: 'extends': no list 'bass' (did you mean 'base'?)"),
        ("[fire lit]", "[fire lid]", "c.yaml:4:13: 'leave_out': no step 'fire lid' (did you mean 'fire lit'?)"),
        ("[fire lit]", "[water before the match]", "c.yaml:4:13: 'leave_out': 'water before the match' is a hold and stays"),
        ("put_after: water before the match", "put_after: water", "c.yaml:13:16: 'put_after': no step 'water'"),
        ("extends: base", "extends: base\nphase: pumping", "c.yaml:4:8: 'phase': 'base' is another phase's list"),
    ],
)  # fmt: skip
def test_an_owners_mistakes(old: str, new: str, expected: str) -> None:
    with pytest.raises(FileWrongError) as caught:
        load(OWN.replace(old, new), BASES)
    assert str(caught.value.problems[0]).startswith(expected), caught.value


def test_a_list_that_extends_itself_is_told() -> None:
    with pytest.raises(FileWrongError, match="'extends': 'base' leads back to itself"):
        load(OWN, {"base": OWN})


def test_every_shipped_list_loads_and_every_phase_has_one() -> None:
    phases = [checklist.phase for checklist in shipped_checklists()]
    assert [phase for phase in phases if phase] == list(Phase)


def test_a_step_takes_its_phases_condition_where_it_names_none() -> None:
    text = """\
name: mine
title: Mine
phase: firing
steps:
  - {id: draught, say: Is there a draught?, asks: chimney, kind: state, why: Air., source: none,
     answers: [{state: drawing, say: [chimney draws]}]}
  - {id: match, say: Light it., asks: fire, kind: act, why: Heat., source: none,
     answers: [{state: lit, say: [fire is lit]}]}
  - {id: bed, say: Now wood., asks: fire, kind: act, why: Heat., source: none,
     answers: [{state: built, say: [fire is built]}]}
  - {id: look, say: Look round., asks: boiler, kind: act, why: Leaks., source: none, while: always,
     answers: [{state: tight, say: [boiler is tight]}]}
"""
    own = checklist_from_text(text, Path("mine.yaml"))
    assert {s.id: s.while_ for s in own.steps} == {
        "draught": "cold", "match": "cold", "bed": "fire in", "look": "always",
    }  # fmt: skip


def test_a_step_laid_over_ours_keeps_what_it_is_meant_for_and_proves() -> None:
    text = """\
name: mine
title: Mine
extends: preparation
steps:
  - {id: gauge at zero, say: What does the gauge read?, asks: pressure, kind: value, why: So.,
     source: none, at_most: 1 psi, too_high: Settle it first.}
  - {id: out of gear, say: Is she out of gear?, asks: gear, kind: state, why: So., source: none,
     while: cold, answers: [{state: out, say: [gear is out]}]}
  - {id: new one, say: Look round., asks: boiler, kind: act, why: So., source: none,
     answers: [{state: tight, say: [boiler is tight]}]}
"""
    laid = checklist_from_text(text, Path("mine.yaml"))
    gauge, gear = laid.step("gauge at zero"), laid.step("out of gear")
    assert (gauge.while_, gauge.proves) == ("cold", "gauge at nothing")
    assert gauge.warm == "raising_steam/first movement"
    assert (gear.while_, gear.proves) == ("cold", "gear out")
    assert laid.step("new one").while_ == "cold", "the phase's"


def test_a_warm_form_in_the_same_list_must_be_there() -> None:
    text = """\
name: mine
title: Mine
phase: preparation
steps:
  - {id: one, say: Look round., asks: boiler, kind: act, why: So., source: none, warm: tow,
     answers: [{state: tight, say: [boiler is tight]}]}
"""
    with pytest.raises(FileWrongError, match="5:88: 'warm': no step 'tow'"):
        checklist_from_text(text, Path("mine.yaml"))
