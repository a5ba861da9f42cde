"""What is said, and in how many words. Knows no sound and decides nothing."""
