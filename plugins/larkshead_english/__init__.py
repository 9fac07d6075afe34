"""larkshead plugin: english."""
