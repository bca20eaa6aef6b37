"""What a movement is, reading one from its file, finding one by name."""
