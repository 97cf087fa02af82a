"""Changes of a file's text that leave its comments, its order and all else as they were."""
