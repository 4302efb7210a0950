"""After the burn: what the char is fit for, the compost, the beds, the carbon, and what every batch
teaches.
"""
