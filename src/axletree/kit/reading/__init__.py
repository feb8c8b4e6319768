"""How does a TOML file become a kit, and how is each mistake in it named?

Modules:
  beside     Which files may a kit name? Only those in its own folder, for it may come from a
             stranger.
  composed   Which text do a kit and a site (or tube) from a file of its own make together?
  files      What stands in a file that a person named, if it is one and no larger than it may
             be?
  lines      On which line of a TOML file does a key stand?
  oddities   What is in a raw kit that no model would notice: a yes for a number, text that moves a
             cursor?
  overgrown  Is a kit's text so long or so deep that reading it would take for ever?
  prepare    How is a raw kit completed before it is checked: place, zone, guessed dimensions?
  problems   How is a mistake in a kit said in one line: where it stands, and what would be right?
  stated     Which dimensions came with an error of their own, and which of those are written
             wrongly?
  table      What stands in a small table that a person wrote: its columns, and each row by its
             line?
"""
