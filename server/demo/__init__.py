"""The demo: an invented firm's record, played through the desk as its people would have typed it.

Every name and value here is invented (Harrow Vale, the firm Tern & Alder Cooling); no reading was ever taken. Pressures
and temperatures are physically consistent: states.py starts from a state of the refrigerant and works out what the
instruments would have shown.
"""
