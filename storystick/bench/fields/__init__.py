"""The fields of a file and its outline, which follow from the declared keys and from what the file says."""
