"""Cards, templates and the proof, as pages."""
