"""Pages of words, to read beside the sheets that are struck from: each file for one moment at one place."""
