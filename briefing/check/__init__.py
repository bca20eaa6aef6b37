"""What is wrong with a workout, a movement, a series: one literal list each."""
