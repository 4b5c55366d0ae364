"""Wood and air: what a wood is called, how much moisture it holds, how far it moves."""
