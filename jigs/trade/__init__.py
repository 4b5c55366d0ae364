"""The shop arithmetic: pure functions on numbers, in millimetres unless a docstring says otherwise."""
