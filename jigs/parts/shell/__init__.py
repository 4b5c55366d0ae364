"""The fan shell, carved on the front."""
