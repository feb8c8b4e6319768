"""How does the object get into the eyepiece, and what will the eye see there?

Modules:
  chance   How likely does what was aimed at lie inside the field?
  patch    Which stars stand around a direction, and where, as the sky shows them?
  person   How well do a person's eyes and hands do what finding asks of them?

Public: ``patch_around``, ``Patch``; ``in_field``; ``Skill``, ``skill_of``.
"""
