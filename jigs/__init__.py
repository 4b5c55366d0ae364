"""Numbers to shapes: the trade's arithmetic and the jigs. Knows no paper and no file format."""
