"""Printers: their measured errors, the print check, and those that are kept."""
