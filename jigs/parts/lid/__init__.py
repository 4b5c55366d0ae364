"""The lid, with its plug and its crown."""
