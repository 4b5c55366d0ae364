"""The jigs that belong to no box, one file each."""
