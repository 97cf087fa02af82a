"""Tool settings from a layout: spacer bars, straightedge lines, shims, and the saw's cuts."""
