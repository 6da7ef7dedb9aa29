"""The build sheet: what is needed in front, then the steps."""
