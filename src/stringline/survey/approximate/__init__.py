"""Starting coordinates: successive intersection, mirror images, what the readings can hold still."""
