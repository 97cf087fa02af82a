"""The files of the one folder: read, saved, renamed, and held against what became of them meanwhile."""
