"""Totals of what was counted: units added up, sizes from the file, doubt that grows with them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.boiler.counted import coal_total, water_total
from assistant.config.engine_file import find_engine
from assistant.messages import COAL_PUT_ON, WATER_PUT_IN, Report

ENGINE = find_engine("practice").engine
SIZED = replace(ENGINE, bucket_kg=8.0, shovel_kg=2.0, water_bucket_m3=0.01)


def coal(count: float, unit: str = "bucket") -> Report:
    return Report(COAL_PUT_ON, count, unit)


def test_five_buckets_are_forty_kilograms_more_or_less() -> None:
    total = coal_total(SIZED, [coal(2.0), Report("fire", "coal"), coal(3.0)])
    assert total is not None and total.counts == (("bucket", 5.0),)
    assert total.low is not None and total.mid is not None and total.high is not None
    assert total.mid == pytest.approx(40.0)
    assert 30.0 < total.low < 36.0 and 44.0 < total.high < 50.0


def test_buckets_and_shovels_add_up() -> None:
    total = coal_total(SIZED, [coal(1.0), coal(3.0, "shovel"), coal(0.5)])
    assert total is not None and total.mid == pytest.approx(18.0)
    assert total.counts == (("bucket", 1.5), ("shovel", 3.0))


def test_many_fillings_are_surer_in_proportion_than_one() -> None:
    one, many = coal_total(SIZED, [coal(1.0)]), coal_total(SIZED, [coal(1.0)] * 20)
    assert one is not None and many is not None
    assert one.high is not None and one.mid is not None
    assert many.high is not None and many.mid is not None
    assert many.high / many.mid < one.high / one.mid


def test_a_size_that_the_file_does_not_tell_leaves_the_count() -> None:
    total = coal_total(replace(SIZED, shovel_kg=None), [coal(1.0), coal(2.0, "shovel")])
    assert total is not None and total.counts == (("bucket", 1.0), ("shovel", 2.0))
    assert (total.low, total.mid, total.high) == (None, None, None)
    assert coal_total(SIZED, [Report("fire", "coal")]) is None


def test_water_is_counted_in_buckets_litres_and_gallons() -> None:
    told = [Report(WATER_PUT_IN, 10.0, "litre"), Report(WATER_PUT_IN, 2.0, "bucket"), coal(1.0)]
    total = water_total(SIZED, told)
    assert total is not None and total.mid == pytest.approx(0.03)
    without = water_total(ENGINE, told[:1])
    assert without is not None and without.mid == pytest.approx(0.01)
    assert water_total(ENGINE, told) == replace(total, low=None, mid=None, high=None)
