"""The answers to the question of the plate."""

from __future__ import annotations

from assistant.procedure import plate


def test_each_answer_names_the_plate_and_means_one_thing() -> None:
    forms = [form for form, _ in plate.ANSWERS]
    assert len(set(forms)) == len(forms)
    assert all("plate" in form.split() for form in forms)
    assert {report for _, report in plate.ANSWERS} == {plate.RIGHT, plate.WRONG}
    assert all(("wrong" in form) == (report == plate.WRONG) for form, report in plate.ANSWERS)
