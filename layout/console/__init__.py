"""How the command line speaks and is spoken to: lines on a terminal, and options."""
