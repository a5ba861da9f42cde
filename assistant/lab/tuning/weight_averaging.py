"""Several changes to the same ear made one: a share of each, as thin as is wanted.

Runs that began alike but learnt at other rates end in other places; their mean, and less than the
whole of it, hears people it never learnt from better than any of them. Knows arrays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from assistant.recogniser.whisper_weights import Float32Array

Adapter = Mapping[str, Float32Array]


def averaged(
    changes: Sequence[Adapter], share: float, rank: int | None = None
) -> dict[str, Float32Array]:
    """`share` of the mean of the changes. rank: of each thin product of what comes out, which is
    then the nearest of that rank; None: as thin as all of them side by side."""
    each = share / len(changes)
    made: dict[str, Float32Array] = {}
    for name in changes[0]:
        if name.endswith("/A"):
            stem = name.removesuffix("/A")
            adapter_rate = np.concatenate([own[name] for own in changes], 0)
            tall = np.concatenate([each * own[f"{stem}/B"] for own in changes], 1)
            made[f"{stem}/A"], made[f"{stem}/B"] = _thinned(adapter_rate, tall, rank)
        elif not name.endswith("/B"):
            made[name] = np.asarray(sum(each * own[name] for own in changes), np.float32)
    return made


def _thinned(
    adapter_rate: Float32Array, tall: Float32Array, rank: int | None
) -> tuple[Float32Array, Float32Array]:
    """[rank, inside] and [outside, rank] whose product is nearest to that of these two."""
    if rank is None or rank >= len(adapter_rate):
        return adapter_rate.astype(np.float32), tall.astype(np.float32)
    left, upper = np.linalg.qr(tall.astype(np.float64))
    right, lower = np.linalg.qr(adapter_rate.T.astype(np.float64))
    inner, sizes, outer = np.linalg.svd(upper @ lower.T)
    root = np.sqrt(sizes[:rank])
    return (
        (root[:, None] * (outer[:rank] @ right.T)).astype(np.float32),
        (left @ inner[:, :rank] * root).astype(np.float32),
    )
