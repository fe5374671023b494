"""The catalogue of crops and how they grow."""
