"""Three explanations of a series of levels, weighed."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.belief.water_process import CHANCES, LevelFit, PriorCovariance, level_fits

HOURS = np.arange(9) / 4.0
SPAN_KG = 28.0


def fits(deviation: list[float] | np.ndarray, noise: float = 1.0) -> dict[str, LevelFit]:
    basis = np.zeros(9), np.zeros(9), 3600.0 * HOURS
    prior = PriorCovariance(SPAN_KG, basis, basis)
    return {f.kind: f for f in level_fits(prior, np.array(deviation), np.full(9, noise))}


def test_every_explanation_is_fitted() -> None:
    assert list(fits(np.zeros(9))) == list(CHANCES)


@pytest.mark.parametrize(
    ("deviation", "kind"),
    [
        (np.zeros(9), "tight"),
        (-12.0 * HOURS, "leaking"),
        (np.minimum(0.0, -30.0 * (HOURS - 1.25)), "sets in"),
    ],
)
def test_the_evidence_favours_what_happened(deviation: np.ndarray, kind: str) -> None:
    found = fits(deviation)
    assert max(found, key=lambda name: found[name].log) == kind


def test_one_outlier_is_weighed_down() -> None:
    wrong = np.zeros(9)
    wrong[4] = 20.0
    tight = fits(wrong)["tight"]
    noise = np.diag(tight.covariance) - np.diag(fits(np.zeros(9))["tight"].covariance)
    assert noise.argmax() == 4


def test_prior_covariances_are_symmetric_and_positive() -> None:
    basis = 3.0 * HOURS, HOURS, 3600.0 * HOURS
    for kind in CHANCES:
        total = PriorCovariance(SPAN_KG, basis, basis).total(kind)
        assert total == pytest.approx(total.T)
        assert np.linalg.eigvalsh(total).min() > -1e-9 * total.max()
