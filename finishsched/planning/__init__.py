"""When to do what: hours, the problem, the checker of plans, the planners."""
