"""The work of an element as a string of counts and marks."""
