"""The care card: advice, its words in the customer's language, cards on a sheet."""
