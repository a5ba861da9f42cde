"""Readings files: what is read, and everything that is wrong told at its place."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.config.engine_file import find_engine
from assistant.config.readings_file import (
    Readings,
    read_readings,
    readings_from_text,
    write_readings,
)
from assistant.errors import FileWrongError
from assistant.messages import Report

HEAD = "time,what,value,unit\n"
GOOD = (
    HEAD
    + """\
00:00:00,water,0.50,glass
00:05:00,fire,lit,
00:41:00,pressure,5,psi
00:44:00,blower,half,
01:02:30,fire,coal,
"""
)
PRACTICE = find_engine("practice").engine


def problems(text: str, with_engine: bool = True) -> list[str]:
    with pytest.raises(FileWrongError) as caught:
        readings_from_text(text, "r.csv", PRACTICE if with_engine else None)
    return [str(problem).removeprefix("r.csv:") for problem in caught.value.problems]


def test_the_documented_example() -> None:
    assert readings_from_text(GOOD, "r.csv", PRACTICE).rows == (
        (0.0, Report("water", 0.5, "glass")),
        (300.0, Report("fire", "lit")),
        (2460.0, Report("pressure", 5.0, "psi")),
        (2640.0, Report("blower", "half")),
        (3750.0, Report("fire", "coal")),
    )


def test_mark_of_byte_order_line_ends_and_blank_lines_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode() + b"\r\n,,,\r\n")
    assert read_readings(path, PRACTICE) == readings_from_text(GOOD, "r.csv")


def test_dates_count_from_the_first_row() -> None:
    text = (
        HEAD
        + """\
2026-05-02T08:15:00+01:00,fire,lit,
2026-05-02T08:50:30+01:00,pressure,5,psi
2026-05-02T08:00:00Z,pressure,10,psi
"""
    )
    readings = readings_from_text(text, "r.csv", PRACTICE)
    assert [at_s for at_s, _ in readings.rows] == [0.0, 2130.0, 2700.0]
    assert readings.started is not None
    assert readings.started.isoformat() == "2026-05-02T08:15:00+01:00"


def test_the_same_reading_twice_is_one() -> None:
    text = HEAD + "00:01:00,pressure,100,kPa\n00:01:00,pressure,1,bar\n"
    assert len(readings_from_text(text, "r.csv", PRACTICE).rows) == 1


def test_water_out_of_sight_is_a_state() -> None:
    rows = readings_from_text(HEAD + "00:01:00,water,out of sight,\n", "r.csv", PRACTICE).rows
    assert rows == ((60.0, Report("water", "out of sight")),)


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ("00:41:00,pressure,5,glass", "3:21: pressure: 'glass' is a unit of water"),
        ("00:41:00,pressure,5,", "3:21: pressure: the unit is missing (psi, bar, kPa, kgf/cm2)"),
        ("00:41:00,pressure,5,pis", "3:21: pressure: unknown unit 'pis' (did you mean 'psi'?)"),
        ("00:41:00,pressure,five,psi", "3:19: pressure: 'five' is not a plain number"),
        ("00:41:00,pressure,nan,psi", "3:19: pressure: 'nan' is not a plain number"),
        ("00:41:00,pressure,inf,psi", "3:19: pressure: 'inf' is not a plain number"),
        ("00:41:00,pressure,1e400,psi", "3:19: pressure: '1e400' is not a plain number"),
        ("00:41:00,pressure,,psi", "3:19: pressure: '' is not a plain number"),
        ("00:41:00,pressure,500,psi", "3:19: 500 psi is off the gauge"),
        ("00:41:00,pressure,-3,psi", "3:19: pressure: -3 psi is off the gauge"),
        ("00:41:00,pressure,1e300,bar", "3:19: pressure: 1e+300 bar is off the gauge"),
        ("00:41:00,water,1.2,glass", "3:16: water: 1.2 glass is off the gauge"),
        ("00:41:00,water,170,mm", "3:16: 170 mm is off the glass"),
        ("00:41:00,tank,60,litre", "3:15: 60 litre is not in the tank"),
        ("00:41:00,tank,5,gallon", "3:17: tank: 'gallon' alone is unclear"),
        ("00:41:00,fire,litt,", "3:15: fire is not 'litt' (did you mean 'lit'?)"),
        ("00:41:00,fire,lit,psi", "3:19: fire has no unit, but 'psi' is given"),
        ("00:41:00,presure,5,psi", "3:10: unknown reading 'presure' (did you mean 'pressure'?)"),
        ("00:04:00,pressure,5,psi", "3:1: the time goes back (line 2 is later)"),
        ("41:00,pressure,5,psi", "3:1: '41:00' is no time"),
        ("00:61:00,pressure,5,psi", "3:1: '00:61:00' is no time"),
        ("2026-05-02T08:15:00,pressure,5,psi", "3:1: times since the start and dates in one file"),
        ("2026-02-31T08:15:00,pressure,5,psi", "3:1: '2026-02-31T08:15:00' is no time"),
        ("00:05:00,fire,banked,", "3:15: two values of fire at one time (the other in line 2)"),
        ("00:41:00,pressure,5,psi,6", "3:25: more cells than the 4 columns"),
        ('00:41:00,pressure,"5,psi', "3:1: not a CSV line: unexpected end of data"),
    ],
)
def test_each_mistake_at_its_place(row: str, expected: str) -> None:
    told = problems(f"{HEAD}00:05:00,fire,lit,\n{row}\n")
    assert told[0].startswith(expected), told
    assert len(told) == 1, told


def test_all_problems_at_once() -> None:
    text = HEAD + "00:05:00,fire,litt,\n00:04:00,presure,1,psi\n00:03:00,water,2,glass\n"
    assert [told.split(":")[0] for told in problems(text)] == ["2", "3", "3", "4", "4"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "0:0: the file is empty"),
        ("  \n\n", "0:0: the file is empty"),
        (HEAD, "0:0: there is no reading in it"),
        ("00:00:00,water,0.5,glass\n", "1:1: unknown column '00:00:00'"),
        ("time;what;value;unit\n", "1:1: the columns must be parted by commas"),
        ("time,what,valeu,unit\n", "1:11: unknown column 'valeu' (did you mean 'value'?)"),
    ],
)
def test_a_file_that_is_no_readings_file(text: str, expected: str) -> None:
    assert problems(text)[0].startswith(expected)


def test_rows_of_another_engine_are_refused_by_name() -> None:
    told = problems("# engine: Copper engine\n" + GOOD)
    assert told == ["1:11: of another engine: 'Copper engine', not 'Practice engine'"]
    column = "time,what,value,unit,engine\n00:00:00,fire,lit,,Practice engine\n"
    assert readings_from_text(column, "r.csv", PRACTICE).engine_name == "Practice engine"
    told = problems(column + "00:01:00,fire,coal,,Copper engine\n")
    assert told == ["3:21: of another engine: 'Copper engine', not 'Practice engine'"]


def test_two_engines_in_one_file_are_told_even_when_none_is_asked_about() -> None:
    text = "time,what,value,unit,engine\n00:00:00,fire,lit,,A\n00:01:00,fire,coal,,B\n"
    assert problems(text, with_engine=False) == ["3:21: of another engine: 'B', not 'A'"]


def test_not_utf8_is_told_with_its_place(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_bytes(HEAD.encode() + b"00:00:00,fire,lit\xff,\n")
    with pytest.raises(FileWrongError, match=r"r\.csv:2:18: not UTF-8"):
        read_readings(path)


NUMBERS = st.one_of(
    st.builds(Report, st.just("pressure"), st.floats(0.0, 190.0), st.just("psi")),
    st.builds(Report, st.just("water"), st.floats(0.0, 1.0), st.just("glass")),
    st.builds(Report, st.just("tank"), st.floats(0.0, 45.0), st.just("litre")),
    st.builds(Report, st.just("fire"), st.sampled_from(["lit", "built", "coal", "banked"])),
)


@given(st.dictionaries(st.integers(0, 50_000), NUMBERS, min_size=1, max_size=20))
def test_what_is_written_is_read_back_to_the_last_bit(by_second: dict[int, Report]) -> None:
    rows = tuple((float(at_s), by_second[at_s]) for at_s in sorted(by_second))
    text = write_readings(rows, "Practice engine")
    assert readings_from_text(text, "r.csv", PRACTICE) == Readings(rows, None, "Practice engine")


@given(st.text(alphabet="0123456789:,.-\n\"'#abct eTZ+\t\r", max_size=200), st.booleans())
def test_nonsense_is_told_and_never_raises_anything_else(text: str, with_head: bool) -> None:
    try:
        readings = readings_from_text((HEAD if with_head else "") + text, "r.csv", PRACTICE)
    except FileWrongError as wrong:
        assert wrong.problems
    else:
        assert readings.rows
