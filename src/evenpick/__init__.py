"""evenpick: something worth picking every week."""

__version__ = "0.1.0"
