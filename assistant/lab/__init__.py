"""Benches and training, with their commands and results. May import everything; only cli.py finds it, by name."""
