"""

Modules:
  look_up_text  When can visitors look up for a satellite? The lines of run sheet, paper and phone.
  plan_b_text  What is shown when clouds come?
  reasons_text  How are many objects without a stop told, each reason once?
  text         In which sentences are the evening's cautions, notes and assumptions told?
"""
