"""The bottom panel in its groove."""
