"""The documents: one table, a template or a layout each; the walkers; the deck; saving."""
