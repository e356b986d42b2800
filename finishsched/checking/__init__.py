"""Rules that find faults in a schedule, a job or a shop before the wood does."""
