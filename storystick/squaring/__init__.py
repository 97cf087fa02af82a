"""Squaring: what is to be square, what was measured of it, what that shows, and the rods to measure with."""
