"""Who does what when, what now, and what became of the plan."""
