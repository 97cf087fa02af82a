"""Gluing up: every glued joint, the order of closing them, their clamps, and stages that the glue leaves time for."""
