"""What a workout is, the notation as a table of forms, reading a board, adding it up."""
