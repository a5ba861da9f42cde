"""Whether the regulator was opened on drain cocks that were called shut while it was shut. Pure.

Cocks shut while she turned, and not spoken of since, claim nothing: at a stop they may be open.
"""

from __future__ import annotations

from assistant.picture.report_log import ReportLog


def opened_on_shut_drains(reports: ReportLog) -> bool:
    """Whether that is so now."""
    return reports.once("shut drains", _fold)


def _fold(reports: ReportLog) -> bool:
    regulator, shut_at_rest, trapped = "shut", False, False
    for timed in reports:
        subject, state = timed.report.what, timed.report.value
        if subject == "drains":
            shut_at_rest = state == "shut" and regulator == "shut"
            trapped = trapped and state != "open"
        elif subject == "regulator":
            if state == "open" and regulator == "shut":
                trapped = shut_at_rest
            elif state == "shut":
                trapped, shut_at_rest = False, False
            regulator = str(state)
    return trapped
