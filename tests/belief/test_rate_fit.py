"""The Laplace fit: posterior against prior, evidence, outliers."""

from __future__ import annotations

import numpy as np
import pytest
from boiler_engines import STEEL

from assistant.belief.bands import Array
from assistant.belief.prior import SPREADS, first_shared, typical_rise_s
from assistant.belief.rate_fit import Posterior, posterior
from assistant.belief.reading_bounds import OUTLIER_CHANCE, ReadingBound, Segment
from assistant.belief.temperature_grid import CELLS, grid_of

GRID = grid_of(STEEL, 80.0)
SHARED = first_shared(STEEL, GRID)
LIT = (Segment(0.0, 0.0, 1.0, from_lighting=True),)
DRAUGHT = np.zeros(CELLS)
TYPICAL = SHARED.run_prior(DRAUGHT)[0]
CELL_S = np.exp(TYPICAL[1:]) * GRID.heat_j


def fitted(*bounds: ReadingBound) -> Posterior:
    return posterior(GRID, SHARED, LIT, bounds, DRAUGHT)


def reached(
    position: int, pace: float = 1.0, cell_s: Array = CELL_S, outlier: float = OUTLIER_CHANCE
) -> ReadingBound:
    """A reading on the typical rise, this much slower, or on another rise."""
    at_s = pace * (float(np.exp(TYPICAL[0])) + float(cell_s[:position].sum()))
    return ReadingBound(0, at_s, position - 0.2, position + 0.2, outlier=outlier)


def rise_s(fit: Posterior) -> float:
    return typical_rise_s(GRID, fit.weight @ fit.mean)


def test_without_readings_it_is_the_prior() -> None:
    fit = fitted()
    assert fit.weight == pytest.approx(np.full(len(SPREADS), 1 / len(SPREADS)))
    assert fit.logs.tolist() == [0.0] * len(SPREADS)
    assert rise_s(fit) == pytest.approx(typical_rise_s(GRID, TYPICAL), rel=0.05)


@pytest.mark.parametrize("pace", [0.6, 1.6])
def test_readings_move_it_and_narrow_it(pace: float) -> None:
    before, after = fitted(), fitted(*(reached(n, pace) for n in (4, 8, 12, 16)))
    assert rise_s(after) == pytest.approx(pace * typical_rise_s(GRID, TYPICAL), rel=0.2)
    for g in range(len(SPREADS)):
        assert after.covariance[g][8, 8] < before.covariance[g][8, 8]


def test_the_evidence_prefers_a_wide_spread_for_a_ragged_rise() -> None:
    by_turns = CELL_S * np.where(np.arange(CELLS) // 4 % 2, 2.0, 0.5)
    smooth = fitted(*(reached(n, outlier=0.0) for n in range(4, 22, 2)))
    ragged = fitted(*(reached(n, cell_s=by_turns, outlier=0.0) for n in range(4, 22, 2)))
    assert smooth.weight[:2].sum() > 0.7
    assert ragged.weight[2:].sum() > 0.9


def test_one_outlier_costs_little_unless_it_is_held_to_be_right() -> None:
    rest = [reached(n) for n in (4, 6, 8, 12, 14)]
    wrong = reached(8)
    early = ReadingBound(0, wrong.at_s + 60.0, 15.0, 15.4)
    sure = ReadingBound(0, wrong.at_s + 60.0, 15.0, 15.4, outlier=0.0)
    plain, with_outlier, with_sure = (
        rise_s(fitted(*rest)), rise_s(fitted(*rest, early)), rise_s(fitted(*rest, sure)),
    )  # fmt: skip
    assert with_outlier == pytest.approx(plain, rel=0.03)
    assert with_sure < 0.9 * plain


def test_the_same_readings_give_the_same_fit() -> None:
    bounds = [reached(n) for n in (4, 8)]
    assert fitted(*bounds) is fitted(*bounds)
