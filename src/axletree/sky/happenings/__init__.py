"""What happens on the Moon or a planet between two instants?

Modules, with what others call:
  ask          One answer for any body: `happenings`, `turns_between`
  kinds        Which things can happen, and what begins and ends them? `Happening`, `Turn`
  on_planets   What do the moons of Jupiter and Saturn do? `planet_happenings`
  on_the_moon  Which features of the Moon come into good light? `moon_happenings`
"""
