"""The rows of the alarm table for the feeds. Only the table."""

from __future__ import annotations

from assistant.alarms import feed_rules as feed
from assistant.alarms import water_rules as water
from assistant.alarms.condition import no_longer
from assistant.alarms.rule import Rule
from assistant.messages import Grade

D, W, C = Grade.DANGER, Grade.WARNING, Grade.CAUTION

FEED: tuple[Rule, ...] = (
    Rule(
        name="no feed, water falling", kind="rate", grade=D, group="no feed",
        when="no feed works or the tank is empty, and the water falls, an eighth above the lower "
        "mark or less",
        action="damper, then blower shut at once, no firing",
        consequence="plates run bare with no means to cover them",
        causes="every feed tried has failed: tank, suction, clack, injector hot",
        respond_within_s=60, detected_by="two glass readings and the feeds", suppression="never",
        subject="no feed,", state="water falling", act="damper shut now",
        more="Blower shut, no firing.",
        condition=feed.no_feed_and_falling, normal=feed.no_feed_but_water,
        replaced=water.at_or_below_the_mark, announces_end=False,
    ),
    Rule(
        name="water falling with feed on", kind="rate", grade=W, group="water low",
        when="a glass reading two hundredths lower, with the feed on for a minute or more",
        action="look at bypass, tank and pump; use the other feed",
        consequence="low water", causes="bypass open, ball stuck, prime lost, tank empty, leak",
        respond_within_s=180, detected_by="two glass readings and the feed, called",
        suppression="valve blown or regulator opened since the reading before",
        subject="water", state="falling, feed on", act="check the feed", renewed=True,
        condition=feed.falling_with_feed, normal=feed.not_falling_or_unfed, gauge="water",
        announces_end=False,
    ),
    Rule(
        name="feed dead", kind="rate", grade=W, group="water low",
        when="a feed is on, and the level no higher, though a gain should have shown",
        action="look at bypass, tank, suction and clack; use the other feed",
        consequence="low water",
        causes="bypass open, ball stuck, prime lost, tank empty, glass dead",
        respond_within_s=180, detected_by="two glass readings and the feed, called",
        suppression="the engine's file tells no delivery and the feed ran under four minutes",
        subject="glass has not gained", state="", act="not proved: check feed",
        more="Or the glass is stuck: blow it through.",
        condition=feed.feed_dead, normal=no_longer(feed.feed_dead), announces_end=False,
    ),
    Rule(
        name="no feed, urgent", kind="disagreement", grade=W, group="no feed",
        when="no feed works, and the pressure rises; or none works or the tank is empty, the water "
        "an eighth above the mark or less",
        action="damper shut, blower shut, no firing, until a feed works",
        consequence="low water with a hot fire, and nothing to meet it",
        causes="fire not checked when the feeds failed",
        respond_within_s=180, detected_by="gauge, glass and feeds, called",
        suppression="no fire and no steam",
        subject="no feed works", state="", act="damper shut, no firing",
        more="Try any other feed.",
        condition=feed.no_feed_and_worse, normal=feed.no_feed_but_calm, announces_end=False,
    ),
    Rule(
        name="feed fails near the mark", kind="rate", grade=W, group="no feed",
        when="the feed that is on gives nothing, or one was said to fail and no other runs,"
        " the water an eighth above the mark or less",
        action="damper shut, no firing; try the other feed",
        consequence="low water with a hot fire, while one feed is looked at",
        causes="as of the feed that gives nothing", respond_within_s=120,
        detected_by="two glass readings and the feed, called",
        suppression="no fire and no steam; no feed works: those rows speak",
        subject="near mark, feed fails", state="", act="damper shut, no firing",
        more="Try any other feed.",
        condition=feed.failing_near_the_mark, normal=feed.gains_or_over_the_mark, gauge="water",
        readings=1, renewed=True, announces_end=False,
    ),
    Rule(
        name="no feed works", kind="disagreement", grade=C, group="no feed",
        when="every feed that was tried has failed, with fire or steam",
        action="no higher until a feed works: damper shut; try the other feed",
        consequence="the water cannot be kept up",
        causes="tank empty, suction or clack stopped, injector hot, pump lost its prime",
        respond_within_s=300, detected_by="the feeds, called, and the glass",
        suppression="an injector tried below the pressure from which it starts",
        subject="no feed works", state="", act="no higher: damper shut",
        more="Try any other feed.",
        condition=feed.no_feed, normal=feed.a_feed_works,
    ),
    Rule(
        name="feed weak", kind="rate", grade=C, group="water low",
        when="a feed is on and gave less than half of what it should, less use and expansion",
        action="look at bypass, tank, strainer; then the glass", consequence="low water, in time",
        causes="bypass not tight, strainer choked, pump worn, tank low, glass half dead",
        respond_within_s=600, detected_by="two glass readings and the feed, called",
        suppression="the engine's file tells no delivery",
        subject="feed gives little", state="", act="bypass, tank, then the glass",
        condition=feed.feed_weak, normal=no_longer(feed.feed_weak),
    ),
)  # fmt: skip
