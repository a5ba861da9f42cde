"""How the shipped adapter of the recogniser is trained and evaluated."""
