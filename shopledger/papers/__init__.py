"""What is printed: a module a paper, one letterhead."""
