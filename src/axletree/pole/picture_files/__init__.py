"""What does a picture file hold, and when and through what was it taken?

Modules:
  exif           When and through what was a picture taken, as its file says?
  fits_pixels    What light does a FITS file hold? The first picture in it, unpacked, in plain
                 numbers.
  limits         How large may a picture be, and how is one refused that is larger, or damaged?
  other_formats  How are 16-bit TIFF, camera raw and HEIF read, by the packages of the extra
                 `pictures`?
  reading        What does a picture file hold: its light, reduced to what the eye of the solver
                 needs?
  sent           What is a picture that a page has sent: reduced there, and with what its file said
                 beside it?
  shots          What is known of each picture before it is looked at: when, and through which
                 focal length?
"""
