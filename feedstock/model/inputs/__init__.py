"""What a user describes: lots, the heap of them, the burn and the job file."""
