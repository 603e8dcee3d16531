"""Pictures that stand alone: scalable, legible in black and white, the same bytes every time.

matplotlib is imported inside functions: it is an extra, and takes half a second.
"""
