"""Peekpaper turns an openwork cutting design into the papers behind its openings.

Data flows one way: SVG text -> `drawing` -> `design` -> `backing` -> `plan` -> `sheets`.
Inside the package every length is a float in millimetres, y points down.
"""

__version__ = "0.3.0"
