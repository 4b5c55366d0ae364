"""The parts of a box, one folder for each section of the box file."""
