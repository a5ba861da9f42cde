"""How often alarms sound: the sums over a steam-up, and the table."""

from __future__ import annotations

from assistant.lab.benches.alarm_rates import AlarmCounts, bench_lines

COUNTS = AlarmCounts(
    3600.0, "done", ((100.0, "water low"), (650.0, "no reading"), (1300.0, "no reading"))
)


def test_alarms_are_counted_in_ten_minutes() -> None:
    assert COUNTS.in_ten_minutes == 0.5
    assert COUNTS.most_in_ten_minutes == 2
    assert AlarmCounts(3600.0, "done", ()).most_in_ten_minutes == 0


def test_a_row_names_the_alarms_and_shouts_internal_errors() -> None:
    bad = AlarmCounts(600.0, "stopped", (), ("no such step",))
    runs = {1: COUNTS, 2: bad}
    header, good_row, bad_row = bench_lines(
        [("practice", 1), ("practice", 2)], lambda name, seed: runs[seed]
    )
    assert header.split() == ["steam-up", "min", "in", "10", "min", "at", "most", "alarms"]
    assert good_row.split()[:5] == ["practice", "1", "60", "0.50", "2"]
    assert good_row.endswith("water low, no reading, no reading (done)")
    assert bad_row.endswith("none (stopped); INTERNAL ERRORS: 1")
