"""How the bench asks the workshop: the door, the desk before it, a back room, the plan watched."""
