"""The sentences that are understood only when typed."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

from assistant.grammar import typed_forms


def test_no_report_stands_there_twice() -> None:
    """The second would take the place of the first, and its sentences would be gone."""
    tree = ast.parse(Path(typed_forms.__file__).read_text(encoding="utf-8"))
    tables = [node for node in ast.walk(tree) if isinstance(node, ast.Dict)]
    keys = Counter(ast.unparse(key) for table in tables for key in table.keys if key is not None)
    assert keys, "the table is no dict any more"
    assert [key for key, times in keys.items() if times > 1] == []
