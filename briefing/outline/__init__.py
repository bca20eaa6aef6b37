"""What is said, line by line: composing it, its order, its seconds, and fitting it to the promised length."""
