"""The box file: its sections and keys, reading and changing it."""
