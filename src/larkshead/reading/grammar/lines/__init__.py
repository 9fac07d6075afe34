"""Lines of shorthand: read statement by statement, each kind of statement in a module of its own that is mixed into ``Lines``."""
