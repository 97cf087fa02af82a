"""What follows along a wall: fit, corners, features, floor, countertops, and what falls behind a cabinet."""
