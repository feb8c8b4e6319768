"""Where do very many objects stand through a whole night or year, quickly?

Modules:
  matrices      What do all objects share at one instant, and what does one object keep all day?
  night_table   Where does the whole catalogue stand through a whole night, quickly?
  table_kernel  How is the night table filled by compiled code? Import it only through
                `kit.kernels`.
  table_runs    What do all rows of a night table share on one day?
  windows       When is each object of the whole catalogue above an altitude, on every night of a
                year?
"""
