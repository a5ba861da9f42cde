"""`footplate schema`: the schema on standard output, and nothing else."""

from __future__ import annotations

import json

import pytest
from shell import run

from assistant.config.json_schema import KINDS, schema_of


@pytest.mark.parametrize("kind", KINDS)
def test_the_schema_is_printed(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "schema", kind)
    assert (code, err) == (0, "")
    assert json.loads(out) == schema_of(kind)


def test_another_kind_is_refused_with_those_there_are(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, err = run(capsys, "schema", "journal")
    assert (code, out) == (2, "")
    assert all(kind in err for kind in KINDS)
