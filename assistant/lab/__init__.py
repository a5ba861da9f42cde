"""Benches and training, their commands and results. Only cli.py finds it, by name."""
