"""larkshead plugin: samples."""
