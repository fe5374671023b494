"""Answers as people read them: one description of each page, drawn as text; the same answers as JSON."""
