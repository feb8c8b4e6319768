"""How is the run sheet printed?

Modules:
  paper      How is the run sheet printed? A tagged PDF, fonts embedded, text that can be selected.
  pictures   Which drawings stand beside the stages on paper?
  pocket     How is the evening printed on one page for the pocket?
  stop_text  Which words stand beside one stop of the printed run sheet?
  text       Which words stand on the printed run sheet, and in which order?
  typeset    How does a page become a PDF?
"""
