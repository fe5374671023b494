"""One reader a source: a file of a weather service or of the grower becomes a `DailySeries`."""
