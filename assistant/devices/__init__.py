"""The world: clock, microphone, speaker, screen. Thin, each with a fake beside it."""
