"""The owner's own voice: twenty phrases recorded, the recogniser's adapter trained on them."""
