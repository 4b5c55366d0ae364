"""A pattern of one's own, carved on a side."""
