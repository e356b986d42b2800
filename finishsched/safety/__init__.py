"""What protects the finisher: cautions for the step in hand."""
