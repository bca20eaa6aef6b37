"""How long a line takes to say: its spoken form, its seconds, and the band around them."""
