"""larkshead plugin: reports."""
