"""Commands about material: need and stock."""
