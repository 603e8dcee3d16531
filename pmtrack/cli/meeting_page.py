"""The report as a page for a meeting, made only where one is asked for."""

from datetime import date, datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pmtrack.actions.report import Asked
    from pmtrack.actions.view import View


def meeting_page(view: "View", now: datetime, asked: "Asked", made_on: date) -> bytes:
    """The HTML document. Raises Refused where the library for its pictures is missing."""
    from pmtrack.actions.meeting import meeting
    from pmtrack.screens.report_page import report_page

    return report_page(meeting(view, now, asked, made_on)).encode()
