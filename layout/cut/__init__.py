"""Templates as what a machine cuts: outlines, engraved lines, centres to drill."""
