"""What the operator does for a step: the fittings move, and what is seen is told, or "not yet"."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from assistant.boiler.scales import PSI_PA
from assistant.config.checklist_file import shipped_checklists
from assistant.config.engine_file import find_engine
from assistant.procedure.checklist import Step
from assistant.simulator.operator_acts import EVERY_FIRING_S, OperatorActs
from assistant.simulator.practice_boiler import PracticeBoiler

ENGINE = find_engine("practice").engine
STEPS = {
    step.id: step
    for listed in shipped_checklists()
    if listed.phase is not None
    for step in listed.steps
}


def at_pressure(psi: float, faults: Sequence[str] = ()) -> tuple[OperatorActs, PracticeBoiler]:
    boiler = PracticeBoiler(ENGINE, 1, start_gauge_pa=psi * PSI_PA, faults=faults)
    return OperatorActs(boiler), boiler


def asking(what: str, *states: str) -> Step:
    """A shipped step about `what` whose passing states include those."""
    for step in STEPS.values():
        passing = {reply.state for reply in step.replies if reply.passes}
        if step.asks == what and passing >= set(states):
            return step
    raise AssertionError((what, states))


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS)
def test_every_step_can_be_done_and_what_is_seen_is_one_of_its_answers(step: Step) -> None:
    acts, _ = at_pressure(60)
    state = acts.do(step)
    replies = {reply.state for reply in step.replies}
    assert state is None or not replies or state in replies


def test_a_fire_is_lit_once_and_then_tended() -> None:
    boiler = PracticeBoiler(ENGINE, 1)
    acts = OperatorActs(boiler)
    acts.tend(EVERY_FIRING_S)
    assert boiler.fire.wood == 0.0, "nobody stokes a fire that is not lit"
    assert acts.do(asking("fire", "lit")) == "lit"
    wood = boiler.fire.wood
    acts.tend(EVERY_FIRING_S - 1)
    assert boiler.fire.wood == wood
    acts.tend(EVERY_FIRING_S)
    assert boiler.fire.wood > wood


def test_nobody_stokes_above_working_pressure() -> None:
    acts, boiler = at_pressure(ENGINE.working_pressure_gauge_pa / PSI_PA + 5)
    acts.do(asking("fire", "coal"))
    green = boiler.fire.green
    acts.tend(10 * EVERY_FIRING_S)
    assert boiler.fire.green == green


def test_a_valve_that_does_not_lift_and_a_vent_without_steam_are_not_yet() -> None:
    acts, _ = at_pressure(1)
    assert acts.do(asking("valve", "lifting")) is None
    assert OperatorActs(PracticeBoiler(ENGINE, 1)).do(asking("vent")) is None
    assert at_pressure(5)[0].do(asking("vent")) == "blows steam"


def test_delivery_is_seen_only_after_a_feed_that_works() -> None:
    step = asking("delivery")
    acts, boiler = at_pressure(60)
    assert acts.do(step) == "gives no gain"
    acts.do(asking("bypass", "shut"))
    assert boiler.state("bypass") == "shut"
    assert acts.do(step) == "gaining"
    stuck, _ = at_pressure(60, faults=["feed stuck"])
    stuck.do(asking("bypass", "shut"))
    assert stuck.do(step) == "gives no gain"


def test_feed_stops_before_the_upper_mark() -> None:
    high = ENGINE.glass.upper_mark - 0.005
    boiler = PracticeBoiler(ENGINE, 1, spread=0.0, start_height=high)
    boiler.feed(True)
    OperatorActs(boiler).tend(0.0)
    assert boiler.state("bypass") == "open"


def test_the_draught_is_stopped_at_damper_and_blower() -> None:
    acts, boiler = at_pressure(60)
    boiler.blower("open")
    acts.stop_draught()
    assert (boiler.state("damper"), boiler.state("blower")) == ("shut", "shut")
