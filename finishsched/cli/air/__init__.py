"""Commands about the air and the pace of drying: air and pace."""
