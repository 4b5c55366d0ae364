"""Blocks onto pages: how they are set, flowed, nested and tiled."""
