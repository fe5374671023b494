"""Site, daylight, weather years, covers and soil temperature."""
