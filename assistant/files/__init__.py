"""Text in, values out, and the book. Problems carry their place."""
