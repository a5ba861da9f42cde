"""Words to meaning and back. Knows no sound and no file."""
