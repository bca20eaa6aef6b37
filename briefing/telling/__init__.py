"""Telling a workout: each thing that a board holds in words, as a figure and in its notation, in one place."""
