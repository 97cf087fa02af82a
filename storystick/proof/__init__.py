"""A printed PDF read back: the job that it carries, and whether its ink lies where that job says."""
