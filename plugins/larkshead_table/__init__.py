"""larkshead plugin: table."""
