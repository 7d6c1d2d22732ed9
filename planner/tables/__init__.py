"""What `options` prints: plain text, 80 columns, one section a file."""
