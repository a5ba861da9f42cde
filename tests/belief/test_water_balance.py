"""Feed and steam as reported, at nominal rates."""

from __future__ import annotations

import pytest
from boiler_engines import STEEL

from assistant.belief.history import Act, History
from assistant.belief.water_balance import nominal_flows, steam_kg_per_s

FULL_FIRE_W = 28e3


def history(*acts: tuple[float, str, str]) -> History:
    found = History()
    for act in acts:
        found = found.with_fact(Act(*act))
    return found


def test_with_nothing_reported_nothing_flows() -> None:
    fed, steam = nominal_flows(STEEL, History(), FULL_FIRE_W).at((0.0, 3600.0))
    assert fed.tolist() == steam.tolist() == [0.0, 0.0]


def test_a_feed_flows_while_it_is_on() -> None:
    flows = nominal_flows(
        STEEL, history((100.0, "feed", "on"), (400.0, "feed", "off")), FULL_FIRE_W
    )
    fed, _ = flows.at((50.0, 100.0, 250.0, 400.0, 9000.0))
    # 1.6 litre a minute
    assert fed == pytest.approx([0.0, 0.0, 4.0, 8.0, 8.0], rel=2e-3)


def test_a_feed_still_on_goes_on_flowing() -> None:
    flows = nominal_flows(STEEL, history((0.0, "feed", "on")), FULL_FIRE_W)
    assert flows.at((600.0,))[0] == pytest.approx([16.0], rel=2e-3)


def test_more_open_takes_more_steam() -> None:
    acts = [("blower", "open"), ("regulator", "open"), ("drains", "open"), ("valve", "lifting")]
    rates = [
        steam_kg_per_s(FULL_FIRE_W, history(*((0.0, *act) for act in acts[:n])), 1.0)
        for n in range(len(acts) + 1)
    ]
    assert rates[0] == 0.0
    assert rates == sorted(set(rates))
    drains = history((0.0, "drains", "open"))  # behind the shut regulator
    assert steam_kg_per_s(FULL_FIRE_W, drains, 1.0) == 0.0
