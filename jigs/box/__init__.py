"""The whole box: its chain of numbers, its rules and wood, its report, and the sheets that are of no one part."""
