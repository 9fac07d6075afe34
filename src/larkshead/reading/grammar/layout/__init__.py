"""What lines and tables say, laid out as a pattern: steps, what differs on some passes, repeats."""
