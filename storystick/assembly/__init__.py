"""What holds when a cabinet is put together: the diagonals that prove it square, pinch rods, and the glue-up."""
