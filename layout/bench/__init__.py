"""Everything in a browser, on this computer: a second speaker beside the command line, through the same door."""
