"""The lists: what to cut, what to buy, what it costs, on paper and as tables."""
