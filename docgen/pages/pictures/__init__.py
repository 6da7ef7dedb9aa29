"""How parts go together, drawn: sections through stacks, the finished article, what a step joins. Figures alone."""
