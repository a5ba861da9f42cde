"""The docstring of each test is the engine file's change; the problem is asserted at its place."""

# ruff: noqa: E501  # a table reads better with one mistake a line
from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.boiler.scales import PRESSURE_PA
from assistant.config import paths
from assistant.config.engine_file import EngineFile, engine_from_text, find_engine
from assistant.errors import FileWrongError, InputWrongError

GOOD = """\
name: Practice engine            # invented
working_pressure: 120 psi        # gauge
safety_valve: {lifts: 145 psi, feathers: 132 psi}
boiler:
  volume: 110 litre
  metal: {steel: 420 kg}
  barrel: {diameter: 420 mm, length: 900 mm}
glass:
  visible: 160 mm
  lower_mark: 0.25
  upper_mark: 0.85
  cold_fill: 0.5
  water: {0.0: 68 litre, 1.0: 96 litre}
fire: {wood_until: 35 psi, rate: 28 kW}
tank: {volume: 45 litre}
pump: {delivers: 1.6 litre/min}
"""
PSI = PRESSURE_PA["psi"]


def load(text: str) -> EngineFile:
    return engine_from_text(text, Path("e.yaml"))


def problems(old: str, new: str) -> list[str]:
    assert old in GOOD
    with pytest.raises(FileWrongError) as caught:
        load(GOOD.replace(old, new))
    return [str(p).removeprefix("e.yaml:") for p in caught.value.problems]


def test_the_documented_example_in_si() -> None:
    engine = load(GOOD).engine
    assert engine.name == "Practice engine"
    assert engine.working_pressure_gauge_pa == pytest.approx(120 * PSI)
    assert engine.valve_lifts_gauge_pa == pytest.approx(145 * PSI)
    assert engine.valve_feathers_gauge_pa == pytest.approx(132 * PSI)
    assert engine.volume_m3 == pytest.approx(0.110)
    assert engine.metal_kg == {"steel": 420.0}
    assert (engine.barrel_diameter_m, engine.barrel_length_m) == pytest.approx((0.42, 0.9))
    assert engine.glass.visible_m == pytest.approx(0.16)
    assert engine.glass.points == ((0.0, 68.0), (1.0, 96.0))
    assert (engine.glass.lower_mark, engine.glass.upper_mark) == (0.25, 0.85)
    assert engine.fire_rate_w == 28_000.0
    assert engine.tank_m3 == pytest.approx(0.045)
    assert engine.pump_m3_per_s == pytest.approx(1.6e-3 / 60)
    assert engine.water_interval_s == 300.0


def test_the_shipped_practice_engine_has_the_documented_figures() -> None:
    shipped, documented = find_engine("practice").engine, load(GOOD).engine
    for field in documented.__dataclass_fields__:
        if field not in {"options", "gauge_top_pa", "rise_limit_pa_per_s"}:
            assert getattr(shipped, field) == getattr(documented, field), field


@pytest.mark.parametrize("stem", paths.shipped(paths.engines_folder()))
def test_every_shipped_engine_is_right_and_marked_invented(stem: str) -> None:
    loaded = find_engine(stem)
    assert loaded.engine.working_pressure_gauge_pa > 0
    assert "invented: yes" in loaded.text


def test_what_may_be_left_out() -> None:
    text = GOOD.replace(", rate: 28 kW", "").replace("tank: {volume: 45 litre}\n", "")
    engine = load(text.replace("pump: {delivers: 1.6 litre/min}\n", "")).engine
    assert (engine.fire_rate_w, engine.tank_m3, engine.pump_m3_per_s) == (None, None, None)


def test_an_injector_is_tried_from_where_it_starts() -> None:
    given = load(GOOD + "injector: {from: 60 psi}\n").engine
    assert given.injector_from_gauge_pa == pytest.approx(60 * PSI)
    assert given.injector_starts_gauge_pa == pytest.approx(60 * PSI)
    left_out = load(GOOD).engine
    assert left_out.injector_from_gauge_pa is None
    assert left_out.injector_starts_gauge_pa == pytest.approx(0.35 * 120 * PSI)


def test_absolute_pressure_is_taken_down_by_the_atmosphere() -> None:
    text = GOOD.replace("120 psi", "8 bar abs") + "atmosphere: 950 hPa\n"
    assert load(text).engine.working_pressure_gauge_pa == pytest.approx(8e5 - 95_000)


def test_altitude_gives_the_standard_atmosphere() -> None:
    # ICAO Doc 7488, table of the standard atmosphere: 1500 m, 845.6 hPa
    engine = load(GOOD + "altitude: 1500 m\n").engine
    assert engine.atmosphere_pa == pytest.approx(84_560, rel=1e-4)


def test_a_slope_is_an_angle_nose_down_negative() -> None:
    assert load(GOOD).engine.nose_up_rad == 0.0
    assert load(GOOD + "nose_up: -2 degree\n").engine.nose_up_rad == pytest.approx(-0.0349066)
    with pytest.raises(
        FileWrongError, match=r"e.yaml:17:10: 'nose_up': '40 degree' is out of range"
    ):
        load(GOOD + "nose_up: 40 degree\n")
    with pytest.raises(FileWrongError, match=r"e.yaml:17:10: 'nose_up'"):
        load(GOOD + "nose_up: 2 psi\n")


def test_units_of_every_trade() -> None:
    text = GOOD.replace("120 psi", "8 kgf/cm2").replace("45 litre", "10 imperial_gallon")
    text = text.replace("160 mm", "6.5 inch").replace("420 kg", "926 lb")
    loaded = load(text)
    assert loaded.engine.working_pressure_gauge_pa == pytest.approx(8 * 98066.5)
    assert loaded.engine.tank_m3 == pytest.approx(0.0454609)
    assert loaded.engine.glass.visible_m == pytest.approx(0.1651)
    assert loaded.engine.metal_kg["steel"] == pytest.approx(420.03, abs=0.01)
    assert loaded.pressure_unit == "kgf/cm2"


@pytest.mark.parametrize(
    ("written", "unit"),
    [("120 psi", "psi"), ("8.3 bar", "bar"), ("9.3 bar abs", "bar"), ("120 lb/in2", "psi"),
     ("8.5 kg/cm2", "kgf/cm2"), ("830 kPa", "kPa"), ("0.83 MPa", "psi")],
)  # fmt: skip
def test_the_dial_is_in_the_unit_of_the_working_pressure(written: str, unit: str) -> None:
    assert load(GOOD.replace("120 psi", written)).pressure_unit == unit
    assert load(GOOD.replace("120 psi", written) + "gauge: {unit: bar}\n").pressure_unit == "bar"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("120 psi ", "120 ", "2:19: 'working_pressure': '120' has no unit"),
        ("120 psi ", "120 pis ", "2:19: 'working_pressure': 'pis' is no unit of pressure (did you mean 'psi'?)"),
        ("120 psi ", "120 mm ", "2:19: 'working_pressure': 'mm' is a length, a pressure is wanted"),
        ("120 psi ", "lots ", "2:19: 'working_pressure': 'lots' is no pressure"),
        ("120 psi ", ".inf psi ", "2:19: 'working_pressure': '.inf psi' is no pressure"),
        ("120 psi ", "1e999 psi ", "2:19: 'working_pressure': '1e999 psi' is not a finite number"),
        ("120 psi ", "8,5 bar ", "2:19: 'working_pressure': '8,5 bar': write the decimals after"),
        ("120 psi ", "12000 psi ", "2:19: 'working_pressure': '12000 psi' is out of range"),
        ("120 psi ", "-5 psi ", "2:19: 'working_pressure': '-5 psi' is out of range"),
        ("120 psi ", "150 psi ", "3:23: 'lifts': 145 psi, 10 bar is below the wanted pressure (150 psi, 10.3 bar): she blows before she is there; give what the valve is set at, or a lower 'working_pressure'"),
        ("120 psi ", "120 psi\nallowed_pressure: 140 psi", "4:23: 'lifts': 145 psi, 10 bar is above the allowed pressure (140 psi, 9.65 bar) by more than a valve's setting tolerance (3 percent, 2 psi at least: ASME I); read both again, and do not steam her"),
        ("120 psi ", "120 psi\nalowed_pressure: 145 psi", "3:1: unknown key 'alowed_pressure' (did you mean 'allowed_pressure'?)"),
        ("120 psi ", "120 psi\nallowed_pressure: 145 pis", "3:19: 'allowed_pressure': 'pis' is no unit of pressure (did you mean 'psi'?)"),
        ("feathers:", "fethers:", "3:32: unknown key 'fethers' (did you mean 'feathers'?)"),
        ("feathers: 132", "feathers: 146", "3:42: 'feathers': 146 psi, 10.1 bar is above what the valve l"),
        ("wood_until: 35", "wood_until: 130", "14:20: 'wood_until': 130 psi, 8.96 bar is above the wanted"),
        ("steel:", "steal:", "6:11: unknown metal 'steal' (did you mean 'steel'?)"),
        ("steel:", "gold:", "6:11: unknown metal 'gold' (one of: steel, copper, brass, iron)"),
        ("420 kg", "420 litre", "6:18: 'steel': 'litre' is a volume, a mass is wanted"),
        ("lower_mark: 0.25", "lower_mark: 0.9", "10:15: marks upside down: 'lower_mark' 0.9 is not below"),
        ("cold_fill: 0.5", "cold_fill: 0.1", "12:14: 'cold_fill' is below 'lower_mark'"),
        ("cold_fill: 0.5", "cold_fill: 0.9", "12:14: 'cold_fill' is above 'upper_mark'"),
        ("cold_fill: 0.5", "cold_fill: half", "12:14: 'cold_fill': 'half' is not a plain number"),
        ("cold_fill: 0.5", "cold_fill: .nan", "12:14: 'cold_fill': '.nan' is not a plain number"),
        ("cold_fill: 0.5", "cold_fill: 50", "12:14: 'cold_fill': 50 is outside 0 to 1"),
        ("1.0: 96 litre", "1.0: 196 litre", "13:31: more water than the boiler holds: 196 litre in 110"),
        ("1.0: 96 litre", "1.0: 60 litre", "13:31: the litres must rise with the height"),
        ("{0.0: 68 litre, 1.0: 96", "{1.0: 96 litre, 0.0: 68", "13:26: the heights must rise: 0 after 1"),
        (", 1.0: 96 litre", "", "13:10: 'water': two heights or more"),
        ("1.0: 96 litre", "0.0: 96 litre", "13:26: '0.0' is given twice (first in line 13)"),
        ("45 litre", "45 gallon", "15:16: 'volume': 'gallon' alone is unclear: imperial_gallon or US_gallon"),
        ("1.6 litre/min", "1.6 litre", "16:18: 'delivers': 'litre' is a volume, a flow is wanted"),
        ("28 kW", "28 kilowats", "14:34: 'rate': unknown unit 'kilowats'"),
        ("safety_valve:", "saftey_valve:", "3:1: unknown key 'saftey_valve' (did you mean 'safety_valve'?)"),
        ("tank: {", "injector: {from: 120 psi}\ntank: {", "15:18: 'from': 120 psi, 8.27 bar is not below the wanted pressure (120 psi, 8.27 bar): give the lowest at which the injector starts"),
        ("tank: {", "injector: {form: 60 psi}\ntank: {", "15:12: unknown key 'form' (did you mean 'from'?)"),
        ("tank:", "tonk:", "15:1: unknown key 'tonk' (did you mean 'tank'?)"),
        ("name: Practice engine", "name:", "1:6: 'name': nothing is given"),
        ("name: Practice engine", "name: [a, b]", "1:7: 'name': one value is wanted, not a list"),
        ("metal: {steel: 420 kg}", "metal: steel", "6:10: 'metal': a table of 'key: value' is wanted"),
        ("fire: {wood_until: 35 psi, rate: 28 kW}\n", "", "1:1: 'fire' is missing"),
    ],
)  # fmt: skip
def test_each_mistake_at_its_place(old: str, new: str, expected: str) -> None:
    told = problems(old, new)
    assert told[0].startswith(expected), told
    assert len(told) == 1, told


def with_pressures(allowed: str, working: str, valve: str) -> str:
    text = GOOD.replace("{lifts: 145 psi, feathers: 132 psi}", valve).replace("120 psi", working)
    return text + (f"allowed_pressure: {allowed}\n" if allowed else "")


@pytest.mark.parametrize(
    ("allowed", "working", "valve"),
    [
        ("", "125 psi", "{lifts: 125 psi, feathers: 118 psi}"),  # lifts at it, feathers below it
        ("", "125 psi", "{lifts: 125 psi}"),
        ("125 psi", "125 psi", "{lifts: 125 psi}"),
        ("120 psi", "120 psi", "{lifts: 123.6 psi, feathers: 123.6 psi}"),  # 3 percent
        ("50 psi", "50 psi", "{lifts: 52 psi}"),  # 2 psi
        ("8 bar", "6 bar", "{lifts: 8.2 bar, feathers: 5.8 bar}"),
    ],
)
def test_allowed_and_working_pressure_and_lift_are_three_things(
    allowed: str, working: str, valve: str
) -> None:
    engine = load(with_pressures(allowed, working, valve)).engine
    assert (engine.allowed_pressure_gauge_pa is None) == (not allowed)
    assert (engine.valve_feathers_gauge_pa is None) == ("feathers" not in valve)
    assert engine.valve_lifts_gauge_pa >= engine.working_pressure_gauge_pa


@pytest.mark.parametrize(
    ("allowed", "working", "valve", "places"),
    [
        ("120 psi", "120 psi", "{lifts: 124 psi}", ["3:23"]),
        ("50 psi", "50 psi", "{lifts: 52.1 psi}", ["3:23"]),
        ("100 psi", "120 psi", "{lifts: 110 psi, feathers: 130 psi}", ["2:19", "3:23", "3:23", "3:42"]),
    ],
)  # fmt: skip
def test_what_pressures_may_not_be_is_told_at_once(
    allowed: str, working: str, valve: str, places: list[str]
) -> None:
    with pytest.raises(FileWrongError) as caught:
        load(with_pressures(allowed, working, valve))
    assert [f"{p.line}:{p.column}" for p in caught.value.problems] == places, caught.value
    above = (
        "'working_pressure': 120 psi, 8.27 bar is above the allowed pressure (100 psi, 6.89 bar)"
    )
    assert (f"{above}: give the highest that is wanted in use" in str(caught.value)) == (
        allowed == "100 psi"
    )


def test_a_valve_without_a_feather_moves_where_it_lifts() -> None:
    engine = load(with_pressures("", "120 psi", "{lifts: 130 psi}")).engine
    assert engine.valve_moves_gauge_pa == engine.valve_lifts_gauge_pa == pytest.approx(130 * PSI)
    assert load(GOOD).engine.valve_moves_gauge_pa == pytest.approx(132 * PSI)


def test_all_problems_at_once_in_the_order_of_the_file() -> None:
    text = (
        GOOD.replace("120 psi ", "120 ").replace("steel", "stel").replace("45 litre", "45 gallon")
    )
    with pytest.raises(FileWrongError) as caught:
        load(text)
    assert [p.line for p in caught.value.problems] == [2, 6, 15]


def test_no_such_engine() -> None:
    with pytest.raises(InputWrongError, match=r"no engine called 'practise'.*'practice'"):
        find_engine("practise")
    with pytest.raises(InputWrongError, match=r"one of: copper, fullsize, practice"):
        find_engine("qqq")
    with pytest.raises(InputWrongError, match="no such file"):
        find_engine("folder/none.yaml")
    with pytest.raises(InputWrongError):
        find_engine("nul\0name")


def test_due_dates_by_the_calendar() -> None:
    text = GOOD + "due: {examination: 2027-05-01, washout: {last: 2026-01-31, every: 3 months}}\n"
    due = {one.name: one.due_by() for one in load(text).due}
    assert str(due["examination"]) == "2027-05-01"
    assert str(due["washout"]) == "2026-05-02"  # 91.3 days


def test_a_mistyped_option_at_its_place() -> None:
    with pytest.raises(FileWrongError) as caught:
        load(GOOD + "options: [hand pump, injecter, steam brake]\n")
    (problem,) = caught.value.problems
    assert str(problem) == (
        "e.yaml:17:22: 'options': unknown 'injecter' (did you mean 'injector'?)"
    )


@given(
    st.lists(
        st.tuples(
            st.integers(0, 40),
            st.sampled_from(["0", "1", "0.3", "0.9", "-1", "1000", "7e9", "1e-9", "130", "69"]),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_whatever_figures_are_put_in_what_loads_can_be_true(puts: list[tuple[int, str]]) -> None:
    numbers = list(re.finditer(r"\d+(\.\d+)?", GOOD))
    text = GOOD
    for place, number in sorted(puts, key=lambda put: -(put[0] % len(numbers))):
        found = numbers[place % len(numbers)]
        text = text[: found.start()] + number + text[found.end() :]
    try:
        engine = load(text).engine
    except FileWrongError:
        return
    glass = engine.glass
    assert 0.0 <= glass.lower_mark <= glass.cold_fill <= glass.upper_mark <= 1.0
    heights, litres = zip(*glass.points, strict=True)
    assert list(heights) == sorted(set(heights))
    assert list(litres) == sorted(set(litres))
    assert litres[-1] / 1000.0 <= engine.volume_m3
    assert (
        0.0
        < engine.wood_until_gauge_pa
        <= engine.working_pressure_gauge_pa
        <= engine.valve_lifts_gauge_pa
    )
    assert 0.0 < engine.valve_moves_gauge_pa <= engine.valve_lifts_gauge_pa


@pytest.mark.parametrize("date", ["2027-02-30", "9999-12-31", "1.5.2027", "soon", "20270501"])
def test_a_date_that_is_none(date: str) -> None:
    with pytest.raises(FileWrongError, match=r"17:20: 'examination': a date is wanted"):
        load(GOOD + f"due: {{examination: {date}}}\n")


@pytest.mark.parametrize(
    ("due", "expected"),
    [
        ("{washout: {last: 2026-01-31}}", "17:16: 'washout': say 'by', 'every' or"),
        ("{washout: {every: 3 moons}}", "17:24: 'every': unknown unit 'moons'"),
        (
            "{washout: {last: 2026-01-31, every: 3 months, evry: 1}}",
            "17:52: unknown key 'evry' (did you mean 'every'?)",
        ),
        ("{washout: [1]}", "17:16: 'washout': a table of 'key: value' is wanted"),
        ("soon", "17:6: 'due': a table of 'key: value' is wanted"),
    ],
)
def test_due_dates_that_are_wrong(due: str, expected: str) -> None:
    with pytest.raises(FileWrongError) as caught:
        load(GOOD + f"due: {due}\n")
    assert str(caught.value.problems[0]).startswith(f"e.yaml:{expected}"), caught.value


def test_the_example_of_the_description_is_right() -> None:
    described = (paths.engines_folder() / "README.md").read_text(encoding="utf-8")
    example = described.split("```yaml\n")[1].split("```")[0]
    loaded = load(example)
    assert loaded.owner == "A. Driver"
    assert [one.name for one in loaded.due] == ["examination", "hydraulic test", "washout"]


def test_an_owners_limit_of_the_rise() -> None:
    text = GOOD.replace("rate: 28 kW", "rate: 28 kW, rise_limit: 6 psi/min")
    # NIST SP 811: 1 psi = 6894.757 Pa
    assert load(text).engine.rise_limit_pa_per_s == pytest.approx(6 * 6894.757 / 60, rel=1e-6)
    with pytest.raises(FileWrongError, match="rise_limit"):
        load(text.replace("6 psi/min", "6 psi"))


def test_people_by_name_in_the_order_they_are_given() -> None:
    assert load(GOOD).people == ()
    assert load(GOOD + "people: [Ann, Bob Lee]\n").people == ("Ann", "Bob Lee")
    assert load(GOOD + "people: Ann\n").people == ("Ann",)


@pytest.mark.parametrize(
    ("people", "expected"),
    [
        ("[Ann, R2]", "17:15: 'people': 'R2': letters only"),
        ("[Ann, Anna]", "17:15: 'people': 'Anna': sounds too much like 'Ann'"),
        ("[Ready]", "17:10: 'people': 'Ready': 'ready' already means"),
        ("[Ann, Ann]", "17:15: 'people': 'Ann' is given twice"),
        ("{Ann: driver}", "17:9: 'people': a list of words is wanted"),
    ],
)
def test_people_that_cannot_be_told_apart_or_spoken(people: str, expected: str) -> None:
    with pytest.raises(FileWrongError) as caught:
        load(GOOD + f"people: {people}\n")
    assert str(caught.value.problems[0]).startswith(f"e.yaml:{expected}"), caught.value


def test_a_usual_time_stands_in_the_place_of_a_rate_and_the_barrel_may_be_left_out() -> None:
    text = GOOD.replace("rate: 28 kW", "usually: 45 min to 100 psi").replace(
        "  barrel: {diameter: 420 mm, length: 900 mm}\n", ""
    )
    engine = load(text).engine
    assert engine.fire_rate_w is None and engine.barrel_length_m is None
    assert engine.usual is not None
    assert engine.usual.seconds == 2700.0
    assert engine.usual.gauge_pa == pytest.approx(100 * PSI)
    both = load(GOOD.replace("rate: 28 kW", "rate: 28 kW, usually: 1.5 hours to 7 bar")).engine
    assert both.fire_rate_w == 28_000.0
    assert both.usual is not None and both.usual.gauge_pa == pytest.approx(7e5)


@pytest.mark.parametrize(
    ("word", "why"),
    [
        ("45 min", "'45 min' says no pressure"),
        ("45 to 100 psi", "'45' has no unit"),
        ("45 min to 100", "'100' has no unit"),
        ("45 s to 100 psi", "'45 s' is no time from cold to steam"),
        ("45 min to 400 psi", "'400 psi' is no pressure she comes to"),
        ("45 min to 0 psi", "'0 psi' is no pressure she comes to"),
    ],
)
def test_a_usual_time_that_says_nothing_is_a_problem(word: str, why: str) -> None:
    found = problems("rate: 28 kW", f"usually: {word}")
    assert len(found) == 1 and why in found[0] and found[0].startswith("14:")


def test_what_is_guessed_is_named() -> None:
    assert load(GOOD + "guessed: [metal, water]\n").engine.guessed == {"metal", "water"}
    with pytest.raises(FileWrongError) as caught:
        load(GOOD + "guessed: [colour]\n")
    assert "'colour' is none of volume, metal, water, rate" in str(caught.value.problems[0])


def test_sizes_of_what_is_counted_are_optional_and_within_reason() -> None:
    engine = load(f"{GOOD}counts: {{bucket: 8 kg, water_bucket: 2 US_gallon}}\n").engine
    assert (engine.bucket_kg, engine.shovel_kg) == (8.0, None)
    assert engine.water_bucket_m3 == pytest.approx(0.00757, rel=1e-3)
    with pytest.raises(FileWrongError, match="shovel"):
        load(f"{GOOD}counts: {{shovel: 80 kg}}\n")
    with pytest.raises(FileWrongError, match="did you mean 'bucket'"):
        load(f"{GOOD}counts: {{buket: 8 kg}}\n")
