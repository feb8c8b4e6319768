"""How does the object get into the eyepiece, and what will the eye see there?

Modules:
  chance        How likely does what was aimed at lie inside the field?
  finding       How is one object found on one tube side: where to look, from which star, by which
                way, what then?
  instruments   Through what does a person look on the way to an object, and which stars show in it?
  naked_eye     Where does one look: how far from which bright stars, and which way?
  parallel      Which star stands on the object's own parallel, so that one knob or patience alone
                leads there?
  patch         Which stars stand around a direction, and where, as the sky shows them?
  person        How well do a person's eyes and hands do what finding asks of them?
  scene         What stands around an object that is looked for, and with which instruments is it
                looked at?
  seen_through  What does each instrument show of an object at one instant?
  shown_object  Where does the object stand among the stars, how large is it, how does it lie?
  start_star    From which bright star does the way to an object begin, or from what is in view?
  steps         How do the hands turn from a bright star to an object, and is it in the field then?
  view          What does the eye meet in each instrument: which stars, how turned, which drift?

Rooms:
  at_eyepiece   What do Moon, planets and double stars show in an eyepiece at one moment?
  hopping       Which finder fields lead from a naked-eye star to the object?
  practice      What makes finding go well before anything is looked for?
  turning       How do both knobs turn the tube from a star to an object, and how surely?

Public: ``patch_around``, ``Patch``; ``in_field``; ``Skill``, ``skill_of``; ``steps``, ``Steps``;
``hopping.hop``.
"""
