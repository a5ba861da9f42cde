"""What is measured, and how. Slow or noisy: never part of the tests."""
