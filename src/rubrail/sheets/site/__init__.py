"""The yard for those who look from afar: plain pages without script, feeds, and a folder to put them on any server.

``shown`` is what a page may know of a unit, ``whole`` the files of a site by their path, ``folder`` writes them. The
same files are served by the desk and written to a folder, byte for byte.
"""
