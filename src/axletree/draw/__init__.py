"""Drawings as SVG text, one function a drawing; used by pages, paper and field sheet alike.

Modules and public functions:
  sheet      Sheet: paper, pen, scales and escaped text, shared by all drawings
"""
