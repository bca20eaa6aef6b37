"""What a coach sets once: for a series, for a workout, on the command line; the last one wins."""
