"""larkshead plugin: prose."""
