"""How is it shown why one axis undoes the Earth's turn?

Modules:
  data     What does the page beside the globe get to know?
  drawing  Why does one axis undo the Earth's turn? The globe, and mounts on it parallel to its
           axis.
  text     Which words stand on the drawing of the globe and the mounts upon it?
  work_sheet          How does the lesson become a work sheet on paper, with the class's own
                      latitude?
  work_sheet_drawing  What do pupils draw into: the globe with their own ground on it, and the
                      eyepiece's circle?
  work_sheet_text     What is asked on the pupils' work sheet, and what is right?
"""
