"""Pages of words: the job sheet, a file of pages to read beside the sheets that are struck from."""
