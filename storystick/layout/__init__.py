"""The arithmetic: openings solved, and every position from the datum."""
