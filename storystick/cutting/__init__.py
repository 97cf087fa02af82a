"""What is cut for a cabinet: its parts, fronts and drawer boxes, and how much stock they take."""
