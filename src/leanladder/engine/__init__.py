"""Physics on floats and arrays in SI; temperatures in degC where a name ends in _c.

Knows nothing of the rest of the project: a function a published model. ENGINE rises
whenever numbers change, so that a ladder says which engine made it.
"""

ENGINE = "2"
