"""The page to work at: jobs drawn while they are typed, in a browser on this machine."""
