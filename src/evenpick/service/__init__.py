"""Use cases: the only place that puts the parts together. Every answer is a frozen record."""
