"""The judge of plans: it holds any plan against its problem, and knows none of the planners."""
