"""Slips of a tired maker: one number, name or line of a correct build gone wrong, and what `docgen check` says of it."""
