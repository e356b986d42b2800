"""Documents: YAML to model and back, with the line and column of everything.

Where to look: ``faults`` (what is wrong and where), ``parsing`` (bytes to a tree of nodes),
``codec`` and ``leaves`` (the small language that formats are declared in), ``formats`` (one
declaration for each kind of document), ``decode`` (read, load and dump), ``library`` (what is
shipped), ``references`` (faults across documents) and ``schemas`` (for editors).
"""
