"""What every other part stands on: errors that teach, days and weeks, seeded randomness, arrays."""
