"""The lists that ship: proved, brisk, walkable to the end on every kind of engine."""

from __future__ import annotations

from dataclasses import replace

import pytest
from procedure_story import ENGINE, PHASES, SHIPPED  # type: ignore[import-not-found]

from assistant.boiler.figures import Engine
from assistant.config.engine_file import find_engine
from assistant.grammar.conflicts import clash
from assistant.grammar.phonetics import alike
from assistant.messages import Report
from assistant.procedure.checklist import OPTIONS, Checklist, Phase, Step
from assistant.procedure.position import (
    Progress,
    can_leave,
    current,
    mark_due,
    offered,
    possible_answers,
    put_step,
)
from assistant.procedure.progress import answer, start_list
from assistant.procedure.scale import level
from assistant.procedure.validation import chain_objections, engine_objections, objections


@pytest.fixture
def engine() -> Engine:
    return ENGINE


@pytest.fixture
def shipped() -> tuple[Checklist, ...]:
    return SHIPPED


@pytest.fixture
def phases() -> dict[Phase, Checklist]:
    return PHASES


FIVE = (Phase.PREPARATION, Phase.FIRING, Phase.RAISING_STEAM, Phase.TICK_OVER, Phase.PUMPING)
BUILDS = {
    "small miniature": {"hand pump", "grease", "lever valve", "chimney extension"},
    "larger miniature": {"geared pump", "hand pump", "mechanical lubricator", "chimney extension"},
    "full size": {
        "geared pump", "injector", "mechanical lubricator", "try cocks", "glass protector",
    },
    "bare": set(),
}  # fmt: skip


@pytest.fixture(params=BUILDS, ids=str)
def build(request: pytest.FixtureRequest, engine: Engine) -> Engine:
    pump = engine.pump_m3_per_s if "geared pump" in BUILDS[request.param] else None
    tank = engine.tank_m3 if pump else None
    return replace(
        engine, options=frozenset(BUILDS[request.param]), pump_m3_per_s=pump, tank_m3=tank
    )


def test_every_list_is_proved(shipped: tuple[Checklist, ...]) -> None:
    problems = [str(p) for c in shipped for p in objections(c, clash, alike)]
    problems += [str(p) for p in chain_objections(shipped)]
    assert problems == []


def good_answer(step: Step, engine: Engine) -> Report:
    """An answer that passes the step: its first passing state, or a value within its limits."""
    if step.kind != "value":
        return Report(step.asks, next(r.state for r in step.replies if r.passes))
    assert step.limits is not None
    ends = [level(b, engine) for b in (step.limits.at_least, step.limits.at_most) if b]
    value = sum(ends) / len(ends)
    if step.gain_on:
        value = max(ends) - 0.1
    unit = {"pressure": "kPa", "water": "glass", "tank": "tank"}[step.asks]
    return Report(step.asks, value / 1000 if unit == "kPa" else value, unit)


def walk(checklist: Checklist, engine: Engine) -> tuple[Progress, list[str]]:
    """Answer everything well, the gauge rising all the while; the steps in the order asked."""
    p, order, time, pressure = start_list(checklist, engine, 0), [], 0.0, 0.0
    for _ in range(400):
        step = current(p) or offered(p)
        if step is None and can_leave(p):
            break
        if step is None:
            pressure += engine.working_pressure_gauge_pa / 50
            p = mark_due(p, pressure)
            continue
        order.append(step.id)
        time += 30
        p = put_step(p, step)
        report = good_answer(step, engine)
        said = dict(possible_answers(p))
        if isinstance(report.value, str):
            assert report in said.values(), f"{step.id}: no words for its answer"
        out = answer(p, report, time)
        assert step.id in [d.step for d in out.done], f"{step.id}: {report} does not pass"
        p = out.progress
    return p, order


@pytest.mark.parametrize("phase", list(Phase), ids=lambda p: p.value)
def test_every_phase_can_be_walked_to_its_gate(
    build: Engine, phases: dict[Phase, Checklist], phase: Phase
) -> None:
    p, order = walk(phases[phase], build)
    assert can_leave(p), [s.id for s in p.steps if not p.is_done(s.id)]
    assert len(order) == len(set(order)), "no step is asked twice"


def test_a_whole_steam_up_is_brisk(build: Engine, phases: dict[Phase, Checklist]) -> None:
    asked = sum(len(walk(phases[phase], build)[1]) for phase in FIVE)
    assert 45 <= asked <= 63, asked


def test_every_step_is_asked_on_some_engine(engine: Engine, shipped: tuple[Checklist, ...]) -> None:
    seen: set[tuple[str, str]] = set()
    for options in BUILDS.values():
        one = replace(engine, options=frozenset(options))
        seen |= {(c.name, s.id) for c in shipped for s in start_list(c, one, 0).steps}
    missing = [(c.name, s.id) for c in shipped for s in c.steps if (c.name, s.id) not in seen]
    assert missing == []


def test_the_order_of_what_must_not_be_turned_round(
    engine: Engine, phases: dict[Phase, Checklist]
) -> None:
    order = [step for phase in FIVE for step in walk(phases[phase], engine)[1]]

    def before(first: str, second: str) -> bool:
        return order.index(first) < order.index(second)

    assert before("water in the glass", "fire lit")
    assert before("water before the match", "fire lit")
    assert before("glass proved cold", "fire lit")
    assert before("first movement", "glass blown through")
    assert before("glass blown through", "water under steam")
    assert before("valve moves", "gauge and valve agree")
    assert before("drains before motion", "regulator eased")
    assert before("everyone clear", "regulator eased")
    assert before("dry steam", "drains shut")
    assert before("bypass shut", "feed proved")
    assert before("water before feeding", "feed proved")
    assert before("feed proved", "bypass open again")


HOLDS = {
    Phase.PREPARATION: {"water in the glass", "glass proved cold"},
    Phase.FIRING: {"water before the match", "fire lit"},
    Phase.RAISING_STEAM: {
        "first movement", "glass blown through", "water under steam", "valve moves",
        "gauge and valve agree",
    },
    Phase.TICK_OVER: {
        "water before moving", "brake before motion", "out of gear", "everyone clear",
        "drains before motion", "dry steam", "drains shut", "stopped to feel",
    },
    Phase.PUMPING: {"feed proved", "water before feeding"},
}  # fmt: skip


@pytest.mark.parametrize("phase", FIVE, ids=lambda p: p.value)
def test_the_hold_points_of_the_trade_are_holds(
    phases: dict[Phase, Checklist], phase: Phase
) -> None:
    assert HOLDS[phase] <= {s.id for s in phases[phase].steps if s.hold}


DANGEROUS = {
    Phase.PREPARATION: {
        "fuel to hand": "petrol", "ash pan and bars": "hot",
        "filled to the cold mark": "gauge at nothing, vent open",
    },
    Phase.FIRING: {"fire lit": "cold fuel", "wood bed": "before the firehole"},
    Phase.RAISING_STEAM: {
        "glass blown through": "steam", "valve moves": "screw",
        "wood to coal": "blower on before the firehole",
        "chimney extension off": "firehole door shut, blower on",
    },
    Phase.TICK_OVER: {"regulator eased": "flat hand", "dry steam": "steam"},
    Phase.PUMPING: {"bypass shut": "slam"},
    Phase.PUTTING_AWAY: {"blow-down": "hot", "damper and chimney": "live fire"},
}  # fmt: skip


def test_every_dangerous_step_has_its_caution(phases: dict[Phase, Checklist]) -> None:
    for phase, cautions in DANGEROUS.items():
        for step, word in cautions.items():
            assert word in phases[phase].step(step).caution.lower(), step


def test_options_named_in_the_lists_exist(shipped: tuple[Checklist, ...]) -> None:
    named = {o.removeprefix("not ") for c in shipped for s in c.steps for o in s.when}
    assert named <= OPTIONS


@pytest.mark.parametrize("stem", ["practice", "copper", "fullsize"])
def test_every_list_fits_every_shipped_engine(stem: str, shipped: tuple[Checklist, ...]) -> None:
    one = find_engine(stem).engine
    assert [str(p) for c in shipped for p in engine_objections(c, one)] == []
