"""The table of alarms and their lifecycle. Knows no device and no file."""
