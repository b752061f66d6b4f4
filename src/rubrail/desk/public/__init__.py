"""The public pages from the desk's stock: which units are shown, what of them, and the files made from it."""
