"""The pattern: templates placed on sheets, the sheets, their tags, the first page."""
