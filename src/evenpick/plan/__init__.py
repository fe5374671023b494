"""What to sow, how much and when: mathematics only, no crops and no weather (docs/design/planner.md)."""
