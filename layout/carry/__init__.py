"""What a sheet carries of itself, and reading it back."""
