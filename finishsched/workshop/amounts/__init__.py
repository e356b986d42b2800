"""How much a coat takes and from which jar: told before it, drawn after it."""
