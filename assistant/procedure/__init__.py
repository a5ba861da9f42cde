"""What to do next. Knows no formula and no file."""
