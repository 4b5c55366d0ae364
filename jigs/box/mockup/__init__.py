"""A mock-up of the box in paper, at full size: nets to cut, fold and stand on the table before wood is bought."""
