"""larkshead plugin: native."""
