"""Drawings into marks: dimensions, labels, tables, and what every page carries."""
