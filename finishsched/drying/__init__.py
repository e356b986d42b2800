"""Air, wood moisture and the cure clock. Plain values in, frozen answers out."""
