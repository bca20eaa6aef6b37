"""A series: what is taught where, what is only recalled, what the series never says, which videos depend on which."""
