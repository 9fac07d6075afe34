"""larkshead plugin: steplist."""
