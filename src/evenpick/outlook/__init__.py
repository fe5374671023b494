"""The ensemble's answer for every crop, cover, way and sow day: outcomes, windows, intervals."""
