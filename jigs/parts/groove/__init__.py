"""The groove for the bottom, and the stops that keep it from showing."""
