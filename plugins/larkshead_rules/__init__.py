"""larkshead plugin: rules."""
