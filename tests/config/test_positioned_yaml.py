"""YAML keeps what was written and where; whatever is wrong is told at its place."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.config.positioned_yaml import Listing, Problems, Scalar, Table, parse, read_text
from assistant.errors import FileWrongError, InputWrongError


def told(text: str) -> list[str]:
    found = Problems("f")
    parse(text, found)
    return [str(problem).removeprefix("f:") for problem in found.sorted()]


def table(text: str) -> Table:
    found = Problems("f")
    root = parse(text, found)
    assert not found.problems
    assert root is not None
    return root


def test_scalars_stay_what_was_written() -> None:
    root = table("a: off\nb: 12:30\nc: 1_000\nd: no\ne: 0x10\nf: ~\ng: 'on'\nh: 2026-05-02\n")
    texts = {key: value.text for key, (_, value) in root.entries.items()}  # type: ignore[union-attr]
    assert texts == {
        "a": "off", "b": "12:30", "c": "1_000", "d": "no", "e": "0x10", "f": "~", "g": "on",
        "h": "2026-05-02",
    }  # fmt: skip


def test_every_place_counts_from_one() -> None:
    root = table("first:\n  - one\n  - {k: v}\n")
    listing = root.get("first")
    assert isinstance(listing, Listing)
    one, inner = listing.items
    assert one == Scalar("one", 2, 5)
    assert isinstance(inner, Table)
    assert (inner.line, inner.column) == (3, 5)
    assert inner.get("k") == Scalar("v", 3, 9)


def test_letters_beyond_ascii_count_as_one_column() -> None:
    assert table("ä: {ö: ü}\n").get("ä").get("ö") == Scalar("ü", 1, 8)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "0:0: the file is empty"),
        ("\n  \n", "0:0: the file is empty"),
        ("# only this\n", "0:0: the file holds only comments"),
        ("---\n", "0:0: the file holds only comments"),
        ("just words\n", "1:1: expected 'key: value' lines"),
        ("- a\n- b\n", "1:1: expected 'key: value' lines"),
        ("a: 1\nb: 2\na: 3\n", "3:1: 'a' is given twice (first in line 1)"),
        ("a: {x: 1, x: 2}\n", "1:11: 'x' is given twice (first in line 1)"),
        ("a:\n\tb: 1\n", "2:1: a tab: indent with spaces"),
        ("a: &here 1\nb: 2\n", "1:4: an anchor (&here): anchors are not used here"),
        ("a: 1\nb: *there\n", "2:4: an alias (*there): write the value out"),
        ("a: &loop [*loop]\n", "1:4: an anchor (&loop): anchors are not used here"),
        ("a: !!python/name:os.system x\n", "1:4: a tag (tag:yaml.org,2002:python/name:os.system)"),
        ("a: 1\n---\nb: 2\n", "2:1: a second document ('---')"),
        ("[a, b]: 1\n", "1:1: a key must be plain words"),
        ("a: [1, 2\n", "2:1: not YAML:"),
        ("a: 'open\n", "2:1: not YAML:"),
        ("a: b: c\n", "1:5: not YAML:"),
        ("a: 1\x00\n", "1:5: a control character (U+0000)"),
        ("a: " + "[" * 40 + "]" * 40 + "\n", "1:16: nested too deeply"),
        ("%YAML 3.0\n---\na: 1\n", "1:1: not YAML: found incompatible YAML document"),
    ],
)
def test_each_mistake_at_its_place(text: str, expected: str) -> None:
    assert told(text)[0].startswith(expected), told(text)


def test_several_mistakes_at_once() -> None:
    places = [line.split(": ")[0] for line in told("a: 1\na: 2\nb: &x 1\nc: *x\n")]
    assert places == ["2:1", "3:4", "4:4"]


@given(st.text(alphabet=" \n\t:-[]{}&*!|>'\"%@#,?ab1\x00ü\u2028\ufeff", max_size=80))
@example("? a\n")
@example("a: |\n  b\n")
@example("!<!> a")
@example("'\\")
def test_any_text_gives_a_table_or_problems(text: str) -> None:
    found = Problems("f")
    root = parse(text, found)
    assert (root is None) <= bool(found.problems)
    for problem in found.problems:
        assert problem.line <= text.count("\n") + text.count("\u2028") + 2  # 2: behind the end


@given(st.binary(max_size=60))
def test_any_bytes_give_text_or_one_clear_line(tmp_path_factory: object, raw: bytes) -> None:
    path = Path(str(tmp_path_factory.mktemp("raw"))) / "f.yaml"  # type: ignore[attr-defined]
    path.write_bytes(raw)
    try:
        read_text(path)
    except FileWrongError as wrong:
        assert "not UTF-8" in wrong.problems[0].message


def test_the_mark_of_byte_order_and_foreign_line_ends_go(tmp_path: Path) -> None:
    path = tmp_path / "f.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: 1\r\nb: 2\r")
    assert read_text(path) == "a: 1\nb: 2\n"


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(InputWrongError, match="no such file"):
        read_text(tmp_path / "none.yaml")
    with pytest.raises(InputWrongError, match="is a folder"):
        read_text(tmp_path)
    with pytest.raises(InputWrongError, match="not an ordinary file"):
        read_text(Path("/dev/null"))
    big = tmp_path / "big.yaml"
    big.write_bytes(b"a: 1\n" * 300_000)
    with pytest.raises(FileWrongError, match=r"larger than 1,000,000 bytes$"):
        read_text(big)
