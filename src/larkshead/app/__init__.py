"""The one path that the command line, an editor and the tests call."""
