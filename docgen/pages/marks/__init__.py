"""What a page is made of: marks at fixed places in mm, and how they are moved."""
