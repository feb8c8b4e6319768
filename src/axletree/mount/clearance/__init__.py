"""What comes nearest to what, in a pose and on the way to it?

Modules:
  map         How near does anything come in every pose of both axes?
  map_kernel  How is the clearance map filled by compiled code? Import it only through
              `kit.kernels`.
  map_levels  Into which cells of poses is the clearance map divided, larger ones first?
  map_lookup  How near does anything come at an object's declination, all round the hour circle?
  nearest     What comes nearest to what when the axes turn, and how near?
  paths       What does a turn from one pose to another pass through?
  rods        How far is one rod from another, or from the ground?
  workable    Can this rig work at all?
"""
