"""The practice operator: calls what the gauges show, in words the grammar takes."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.boiler.scales import PSI_PA
from assistant.config.checklist_file import shipped_checklists
from assistant.config.engine_file import find_engine
from assistant.grammar.phrases import grammar
from assistant.messages import Answer, Correction, Expected, Report
from assistant.procedure.checklist import for_engine
from assistant.procedure.scale import options
from assistant.simulator.operator import Operator
from assistant.simulator.practice_boiler import PracticeBoiler

ENGINE = find_engine("practice").engine
LISTS = tuple(c for c in shipped_checklists() if c.phase is not None)


def operator(gauge_psi: float = 0.0, seed: int = 1) -> tuple[Operator, PracticeBoiler]:
    start = gauge_psi * PSI_PA if gauge_psi else None
    boiler = PracticeBoiler(ENGINE, seed, start_gauge_pa=start)
    return Operator(boiler, LISTS, np.random.default_rng(seed)), boiler


@pytest.mark.parametrize("psi", [0, 3, 20, 62, 75, 118])
def test_pressure_is_called_in_fives_and_understood(psi: float) -> None:
    who, boiler = operator(psi)
    for _ in range(6):
        line = who.reading("pressure")
        assert isinstance(line.meaning, Report)
        shown = boiler.gauge_pressure_gauge_pa / PSI_PA
        assert abs(float(line.meaning.value) - shown) <= 2.5
        assert grammar(Expected("pressure")).parse(line.words) == line.meaning


def test_water_is_called_in_parts_of_the_glass_and_understood() -> None:
    who, boiler = operator()
    line = who.reading("water")
    assert isinstance(line.meaning, Report)
    assert abs(float(line.meaning.value) - float(boiler.glass_fraction or 0)) <= 0.07
    assert grammar(Expected("water")).parse(line.words) == line.meaning


def test_every_answer_of_every_step_is_understood_where_it_is_asked() -> None:
    who, _ = operator()
    for listed in LISTS:
        for step in for_engine(listed, options(ENGINE)).steps:
            expected = Expected("state", step.answers())
            for reply in step.replies:
                line = who._state_line(step, reply.state)
                assert grammar(expected).parse(line.words) == line.meaning


def test_a_doubt_is_answered_by_what_was_meant() -> None:
    who, _ = operator(60)
    said = who.line(Expected("pressure"), 0.0)
    assert said is not None
    assert who.check(said.meaning).meaning == Answer("yes")
    assert who.check(Report("pressure", 5.0, "psi")).meaning == Answer("no")


def test_a_wrong_read_back_is_contradicted_with_the_right_value() -> None:
    who, _ = operator(60)
    said = who.line(Expected("pressure"), 0.0)
    line = who.contradict()
    assert said is not None
    assert line is not None
    assert line.meaning == Correction(said.meaning)
    assert grammar(Expected("any", (), "pressure")).parse(line.words) == line.meaning


def test_an_act_is_done_to_the_boiler_before_it_is_told() -> None:
    who, boiler = operator()
    who.ask("firing", "fire lit", 0.0)
    line = who.line(Expected("state"), 600.0)
    assert line is not None
    assert line.meaning == Report("fire", "lit")
    before = boiler.temperature_k
    boiler.step(1200)
    assert boiler.temperature_k > before + 5


def test_a_feed_that_is_taken_off_near_the_upper_mark_is_told_so() -> None:
    high = ENGINE.glass.upper_mark - 0.005
    boiler = PracticeBoiler(ENGINE, 1, spread=0.0, start_height=high)
    who = Operator(boiler, LISTS, np.random.default_rng(1))
    boiler.feed(True)
    who.tend(0.0)
    line = who.line(Expected("any"), 0.0)
    assert line is not None
    assert line.meaning == Report("feed", "off")


def test_a_valve_that_feathers_is_told_at_once_where_it_is_watched() -> None:
    feathers = (ENGINE.valve_feathers_gauge_pa or 0.0) / PSI_PA
    who, boiler = operator(feathers + 6.0)
    boiler.step(2.0)
    assert who.line(Expected("any"), 10.0) is None, "nobody asked"
    step = next(s for listed in LISTS for s in listed.steps if s.asks == "valve")
    phase = next(c.phase for c in LISTS if step in c.steps)
    assert phase is not None
    who.ask(phase.value, step.id, 10.0)
    line = who.line(Expected("state"), 10.0)
    assert line is not None
    assert line.meaning == Report("valve", boiler.valve_state)
    who.done(step.id)
    boiler.temperature_k -= 12.0
    boiler.step(2.0)
    after = who.line(Expected("any"), 11.0)
    assert after is not None
    assert after.meaning == Report("valve", "shut")
