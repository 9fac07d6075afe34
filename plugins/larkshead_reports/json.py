"""Remarks for machines; the shape of one is in ``report.json`` among the schemas."""

from __future__ import annotations

import json

from larkshead.reports import Report


def render(report: Report) -> str:
    """One list of all remarks, in the order of the files and of the places in each."""
    remarks = [remark.as_json() for file in report.files for remark in file.remarks]
    if not remarks:
        return "[]\n"
    return "[\n" + ",\n".join(json.dumps(remark) for remark in remarks) + "\n]\n"


def render_lines(report: Report) -> str:
    """One object a line."""
    return "".join(json.dumps(remark.as_json()) + "\n" for file in report.files for remark in file.remarks)
