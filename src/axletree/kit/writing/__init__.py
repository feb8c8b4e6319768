"""With which file does a person begin, and how are its values filled in?

Modules:
  groups    In which order does a person fill in a kit, and which values are enough to begin?
  template  With which file does a person begin? A commented kit that asks for five numbers first.
  measured  How is a measured dimension written into a kit's text, with error and date, comments
            kept?
  template_words  Which words stand in a new kit file, and what of them is there for some kits only?
  units     How is a value of the kit shown in the person's units, and read back?
"""
