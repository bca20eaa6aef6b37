"""How long a workout takes three kinds of people, how to break it up, and how to make it shorter."""
