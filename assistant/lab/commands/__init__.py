"""The commands of the laboratory, found by cli.py by their names."""
