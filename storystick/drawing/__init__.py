"""Strips and other pictures as shapes in mm; no page sizes, no file formats."""
