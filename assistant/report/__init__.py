"""A journal to a page, a chart, a table."""
