"""The things that stand in pictures of work, at their true sizes: each seen from above and cut across."""
