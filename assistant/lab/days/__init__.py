"""Random days at an engine of their own, and what the session's promises look like from outside."""
