"""What the person owns and where they stand.

Rooms, each with its modules at the head of its `__init__`:
  parts     What does a kit consist of, and what stands in for values that are not given?
  place     Which place on the Earth does a person mean, by name or in figures?
  reading   How does a TOML file become a kit, and how is each mistake in it named?
  writing   With which file does a person begin, and what does each of its keys ask?

Modules:
  errors    What does a person read when something they gave is wrong?
  frozen    How is a frozen dataclass made without a tenth of a command's time?
  job       In which order do the hands work at the site?
  kernels   Shall a big table be worked out by compiled code, and where is that code kept?
  kit       What does the person own and where do they stand? One TOML file, read and checked as a
            whole.
  rig       Which rig do a kit and a site (or tube) from files of their own make together?
  spelling  Which spellings mean the same word?
"""
