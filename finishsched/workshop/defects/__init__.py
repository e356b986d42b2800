"""What documents and films have wrong: findings of the checker, causes, reworks."""
