"""The garden's book: one SQLite file that keeps the diary."""
