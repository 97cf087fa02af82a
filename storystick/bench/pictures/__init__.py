"""What is drawn on the page, with the places in it that lead to fields."""
