"""What the user wrote: job files, their defaults, and every fault with its place."""
