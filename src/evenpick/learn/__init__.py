"""What the diary teaches: the grower's own timing and yield (docs/design/learning.md)."""
