"""Text with lines and columns, the head of a file, where the coach's and the built-in files are found."""
