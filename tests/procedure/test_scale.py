"""Readings and figures in one scale. Factors checked against the definitions of the units."""

from __future__ import annotations

from dataclasses import replace

import pytest
from procedure_story import ENGINE  # type: ignore[import-not-found]

from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.messages import Report
from assistant.procedure.checklist import FIGURES, Bound, Limits
from assistant.procedure.scale import (
    figure,
    glass_litres,
    judge,
    level,
    measure,
    options,
    pressure_unit_pa,
)


@pytest.fixture
def engine() -> Engine:
    return ENGINE


@pytest.mark.parametrize(
    ("report", "value"),
    [
        (Report("pressure", 100, "psi"), 689475.7293),  # 6894.757293168 Pa: NIST SP 811
        (Report("pressure", 5, "bar"), 500000.0),
        (Report("water", 0.5, "glass"), 0.5),
        (Report("water", 80, "mm"), 0.5),  # of a glass of 160 mm
        (Report("water", 2, "inch"), 0.3175),  # 50.8 of 160 mm; the inch is 25.4 mm by definition
        (Report("tank", 22.5, "litre"), 0.5),  # of 45 litres
        (Report("tank", 0.25, "tank"), 0.25),
        (Report("water", "out of sight"), None),
        (Report("water", 1, "psi"), None),
        (Report("pressure", float("nan"), "psi"), None),
    ],
)
def test_measure(report: Report, value: float | None, engine: Engine) -> None:
    found = measure(report, engine)
    assert found == (None if value is None else pytest.approx(value, rel=1e-9))


def test_every_figure_has_a_value_in_the_engine(engine: Engine) -> None:
    assert all(figure(engine, name) > 0 for name in FIGURES)
    half = level(Bound("working pressure", 0.5), engine)
    assert half == pytest.approx(engine.working_pressure_gauge_pa / 2)


def test_a_figure_that_the_file_leaves_out_is_the_lift(engine: Engine) -> None:
    assert figure(engine, "valve feathers") == 132 * PSI_PA
    assert figure(engine, "allowed pressure") == 145 * PSI_PA
    without = replace(engine, valve_feathers_gauge_pa=None, allowed_pressure_gauge_pa=150 * PSI_PA)
    assert figure(without, "valve feathers") == 145 * PSI_PA
    assert figure(without, "allowed pressure") == 150 * PSI_PA


def test_a_reading_at_the_mark_is_within(engine: Engine) -> None:
    limits = Limits(Bound("valve feathers"), Bound("valve lifts"), "low", "high")
    at = engine.valve_lifts_gauge_pa
    assert judge(limits, at * (1 + 1e-9), engine) is None
    assert judge(limits, at * 1.001, engine) == "high"
    assert judge(limits, engine.valve_moves_gauge_pa * 0.999, engine) == "low"
    assert judge(None, 5.0, engine) is None


def test_options_follow_from_the_figures(engine: Engine) -> None:
    assert {"tank", "pump", "standing feed"} <= options(engine)


@pytest.mark.parametrize(
    ("unit", "pa"),
    [("psi", 6894.757293168), ("bar", 1e5), ("kPa", 1e3), ("glass", 6894.757293168)],
)
def test_a_unit_of_pressure_and_psi_for_any_other(unit: str, pa: float) -> None:
    assert pressure_unit_pa(unit) == pa


def test_the_glass_holds_what_lies_between_its_ends(engine: Engine) -> None:
    assert glass_litres(engine) == pytest.approx(96.0 - 68.0)
