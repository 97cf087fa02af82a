"""Pages of shapes into a file. Each writer has the same signature."""
