"""Shapes to sheets to files. Knows no particular jig."""
