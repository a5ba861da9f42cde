"""A voice-and-checklist assistant for raising steam on a small coal-fired boiler."""

__version__ = "0.2.0"
