"""The commands, one file each: its arguments, and what it does with them."""
