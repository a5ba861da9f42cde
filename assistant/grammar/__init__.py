"""Every sentence that is accepted: words to meaning and back. Knows no sound and no file."""
