"""Statics and geometry of towed loads: plain NumPy functions, arrays in, arrays out.

x runs in inches rearward of the coupling point (on the truck: rearward of the front axle), z up, forces in
pounds. Functions take keyword-only arguments and broadcast; ``nan`` means *not known* and flows through.
Members (axles, pieces of cargo, people and gear) come along the first axis.
"""
