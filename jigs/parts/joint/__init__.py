"""The finger joint, and the indexing sled that cuts it."""
