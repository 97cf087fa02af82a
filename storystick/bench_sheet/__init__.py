"""The bench sheet: one page for a phone or tablet in the shop, that needs no server and asks for nothing else."""
