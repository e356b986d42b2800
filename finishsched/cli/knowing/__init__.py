"""Commands that teach: check, help, schedules."""
