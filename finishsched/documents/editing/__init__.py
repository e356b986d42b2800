"""Change a document's text in place: ``edited`` gives the text that reads as another model.

``spans`` finds where every value stands, ``changes`` what is other than before, ``rendering`` how a
new value is written at its place. Comments, order and spelling elsewhere stay byte for byte.
"""
