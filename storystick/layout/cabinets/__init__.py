"""A cabinet's parts and openings in place, and the sticks that follow from them."""
