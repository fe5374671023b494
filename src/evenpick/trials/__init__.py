"""Fair comparisons of varieties: how many plots, where, what is recorded, and what may be said of it."""
