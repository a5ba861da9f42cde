"""The rows of the alarm table for motion out of order and priming. Only the table."""

from __future__ import annotations

from assistant.alarms import motion_rules as motion
from assistant.alarms.condition import no_longer
from assistant.alarms.rule import Rule
from assistant.messages import Grade

W = Grade.WARNING

MOTION: tuple[Rule, ...] = (
    Rule(
        name="regulator open, people near", kind="disagreement", grade=W, group="people near",
        when="the regulator is open and somebody was called near",
        action="shut the regulator, clear the people",
        consequence="somebody is caught or run over", causes="out of order, somebody came up",
        respond_within_s=10, detected_by="regulator and people, called", suppression="none",
        subject="regulator shut", state="", act="somebody is near",
        condition=motion.opened_on_people, normal=no_longer(motion.opened_on_people),
        announces_end=False,
    ),
    Rule(
        name="regulator open, in gear", kind="disagreement", grade=W, group="motion",
        when="the regulator is open and the gear was called in",
        action="shut the regulator, take her out of gear",
        consequence="she drives off", causes="out of order, gear forgotten",
        respond_within_s=10, detected_by="regulator and gear, called", suppression="none",
        subject="regulator shut", state="", act="gear is in",
        condition=motion.opened_in_gear, normal=no_longer(motion.opened_in_gear),
        announces_end=False,
    ),
    Rule(
        name="regulator open, drains shut", kind="disagreement", grade=W, group="motion",
        when="the regulator is opened after the drain cocks were shut",
        action="shut the regulator, open the drain cocks",
        consequence="trapped water breaks a cylinder", causes="out of order, moved off too soon",
        respond_within_s=20, detected_by="regulator and drain cocks, called", suppression="none",
        subject="regulator shut", state="", act="drains first",
        condition=motion.opened_on_shut_drains, normal=no_longer(motion.opened_on_shut_drains),
        announces_end=False,
    ),
    Rule(
        name="regulator open, no oil", kind="disagreement", grade=W, group="motion",
        when="the regulator is open and the lubricator was called still while she turned",
        action="shut the regulator, see to the lubricator",
        consequence="a dry cylinder scores in minutes", causes="lubricator empty, cold or let go",
        respond_within_s=60, detected_by="regulator and lubricator, called", suppression="none",
        subject="regulator shut", state="", act="the lubricator stands still",
        condition=motion.opened_without_oil, normal=no_longer(motion.opened_without_oil),
        announces_end=False,
    ),
    Rule(
        name="regulator open, bearing hot", kind="disagreement", grade=W, group="motion",
        when="the regulator is open and a bearing was called hot",
        action="shut the regulator, find out why",
        consequence="the bearing runs or seizes", causes="oil that did not reach it, too tight",
        respond_within_s=60, detected_by="regulator and bearings, called", suppression="none",
        subject="regulator shut", state="", act="a bearing is hot",
        condition=motion.opened_on_hot_bearing, normal=no_longer(motion.opened_on_hot_bearing),
        announces_end=False,
    ),
    Rule(
        name="drains shut, water coming", kind="disagreement", grade=W, group="motion",
        when="the drain cocks are shut while water still comes from them, regulator open",
        action="shut the regulator, open the drain cocks",
        consequence="trapped water breaks a cylinder", causes="shut too soon",
        respond_within_s=20, detected_by="drain cocks and what comes from them, called",
        suppression="none",
        subject="regulator shut", state="", act="drains first",
        condition=motion.shut_on_water, normal=no_longer(motion.shut_on_water), announces_end=False,
    ),
    Rule(
        name="priming", kind="spoken", grade=W, group="priming",
        when="priming is called, until it is called settled",
        action="shut the regulator gently, open the drain cocks",
        consequence="water breaks a cylinder, and the level is not what the glass shows",
        causes="water too high, steam drawn too fast, dirty water",
        respond_within_s=20, detected_by="called", suppression="none",
        subject="regulator shut,", state="gently", act="drain cocks open",
        condition=motion.priming, normal=no_longer(motion.priming), announces_end=False,
    ),
)  # fmt: skip
