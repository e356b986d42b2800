"""Going on by a plan once things happened otherwise: what stays, what is made anew, its price."""
