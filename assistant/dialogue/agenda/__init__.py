"""The agenda: one table of what is wanted now, and what of it is spoken."""
