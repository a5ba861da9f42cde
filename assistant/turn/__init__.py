"""What one event does to the session, part by part. Thinks only: no file, no clock, no device."""
