"""What goes on what: the table of layers, and the stack that a schedule lays."""
