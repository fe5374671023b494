"""Water: what the air asks for and what the ground holds."""
