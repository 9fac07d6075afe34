"""larkshead plugin: shorthand."""
