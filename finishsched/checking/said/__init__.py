"""What the free words of a step say: clauses, facts, and what is unfit in the hand."""
