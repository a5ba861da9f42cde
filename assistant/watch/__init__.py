"""Alarms: their rules and their life. Knows no device and no file."""
