"""A sheet as writers see it: paper, pens, letters, marks."""
