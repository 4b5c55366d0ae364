"""The handle, cut with a hole saw."""
