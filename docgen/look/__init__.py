"""A look at a spec while it is written: one web page of what stands in it, made anew when it is saved."""
