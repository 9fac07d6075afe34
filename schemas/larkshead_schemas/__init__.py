"""The contracts as JSON Schema: pattern, convention, settings, report."""
