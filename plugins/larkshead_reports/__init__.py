"""The reports that ship: text for people, JSON for machines."""

from __future__ import annotations

from larkshead.host import ReportSpec, hookimpl


@hookimpl
def larkshead_reports() -> list[ReportSpec]:
    """Text, one JSON list, and one JSON object a line."""
    return [
        ReportSpec(
            "text", "each remark with the user's own line and the place marked", "larkshead_reports.text:render"
        ),
        ReportSpec("json", "one JSON list of all remarks", "larkshead_reports.json:render"),
        ReportSpec("json-lines", "one JSON object a line", "larkshead_reports.json:render_lines"),
    ]
