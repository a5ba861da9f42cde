"""The board: the picture on a screen in the cab, and presses instead of words."""
