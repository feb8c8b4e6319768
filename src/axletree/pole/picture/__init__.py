"""Where does each pixel of a frame look, by the frame's own header?

Modules:
  distortion   How do the polynomials in a header bend the picture?
  fits_header  What does the header of a FITS file say?
  frame_file   What does one camera frame say: which way did it look, and when?
  plate        Where does a digitised survey plate look, by the polynomials of its own header?
  wcs          Which direction in the sky does each pixel of a frame look in, by the frame's own
               header?
"""
