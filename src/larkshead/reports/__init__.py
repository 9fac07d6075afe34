"""What a report is given to print: remarks on files, each at its place in the user's own text."""

from larkshead.reports.printable import blank_codes, is_printable, printable
from larkshead.reports.remarks import SEVERITIES, FileReport, Mend, Place, Remark, Report

__all__ = ["SEVERITIES", "FileReport", "Mend", "Place", "Remark", "Report", "blank_codes", "is_printable", "printable"]
