"""How is the axis error told?

Modules:
  drawing_list   What stands below the drawing of the axis: measurements by their letters, what
                 pens mean?
  circles_text   In which words is told what circle readings say of the mount itself?
  columns_text   In which words are the columns of a file of measurements explained?
  data           What does a program get to know about the axis? Keys carry units; what is unknown
                 is null.
  doubts_text    In which words is told what is doubtful in a measurement, and what would settle it?
  drawing        Where does the axis point, how well is that known, and is it good enough? One
                 sheet.
  drawing_text   Which words stand on the drawing of the axis?
  finding_data   What does a program get to know about one measurement of the axis, and about its
                 estimate?
  forms          Which form has the answer about the axis for programs? Keys carry units; null is
                 unknown.
  measured_text  In which words is one measurement told: what it was, its rows, what looked wrong in
                 it?
  pictures       How is told what was recognised in plain pictures?
  text           In which words is the axis error told, in at most 80 columns, and on the page?
  turn_text      In which words is told which bolt to turn, what to see then, and what to measure
                 next?
  turns_text     In which words is told how far frames or pictures were turned, and how well each
                 fits?
"""
