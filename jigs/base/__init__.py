"""What every jig stands on: lengths, words, the drawing, rules and errors, settings, the catalogue."""
