"""The table of alarms and their life. Knows no device and no file."""
