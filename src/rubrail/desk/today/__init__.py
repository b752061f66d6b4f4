"""What needs a hand today: one small module a topic, gathered on the first page."""
