"""The terminal's face: options in, a page or JSON out. Nothing slow is imported before a command runs."""
