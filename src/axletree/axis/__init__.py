"""What do the circles of an imperfect mount show, and how well is it known?

Modules:
  circles   What do the circles of an imperfect mount show when the tube points at a star?
  circles_read  Where does an object stand at a moment, what do the circles read there, and on which
            star is one set before?
  frame     Which hour angle and declination does a mount see whose axis is a little off?
  marks     What does an hour circle show as it is marked, and how does that change while time
            passes?
  model     What is known of an imperfect mount, how well, since when?
  rates     How fast must each shaft turn to keep an object in view when the axis is off?
  set_on    What does a circle show from then on that was set on a star?
  shown     What will the person's circles show on an object, and where does the tube point at a
            reading?
  state     What is known of a person's own mount at a moment, from when and which evening?
  sides     What do the person's circles show on one object, on each tube side?
  spread    How uncertain are figures that follow from a pointing model, by laws that bend?
  unknowns  By which six figures does a mount differ from a perfect one, and how large are they
            usually?
  voids     What is no longer known of a mount after something was moved?

Public:
  model.PointingModel      six figures in arcminutes (axis high and east, both index errors, cone,
                           lean), their covariance, and how and from when each is known
  model.unmeasured         such a model of a mount whose axis was set by some method
  model.learned            the model with a measurement added
  voids.void               the model after a bolt, the tripod, a circle or the tube was moved
  set_on.circle_set        the model after a circle was set on a star
  shown.circles_shown      hour angle and declination in, what the circles show and its error out
  shown.circles_shown_on   the same from where an object is seen
  sides.circles_of_sides   the same of one object for both tube sides
  shown.pointed_at         what the circles show in, where the tube points and its error out
  shown.instrument_angles  at which angles a perfect mount would stand as this one does
  marks.hour_reading_h     an hour circle's figure as the circle is marked
  rates.shaft_rates        how fast the hour shaft and the declination knob follow an object
"""
