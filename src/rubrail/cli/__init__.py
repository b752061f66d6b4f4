"""The terminal face: the answers on files and folders of files."""
