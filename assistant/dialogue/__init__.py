"""The session: handle(event) -> effects. Thinks only: no file, no clock, no device."""
