"""Learning from trial cuts: what is off in this shop, and how surely that is known.

An *unknown* is something the documents have slightly wrong, such as the zero of a gauge; a
*belief* says where unknowns probably are; *observations* on a trial piece make it narrower, and
*memory* carries it from one day to another, a little wider for every day in between.
"""
