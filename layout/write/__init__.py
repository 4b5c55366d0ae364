"""Sheets into files: one writer a format, and files written aside and renamed."""
