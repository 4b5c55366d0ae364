"""What a class is handed out: packs, pages, and what is done already."""
