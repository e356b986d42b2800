"""The command that says who does what when."""
