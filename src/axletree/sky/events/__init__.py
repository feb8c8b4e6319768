"""When does something in the sky happen: rise, set, culmination, twilight, phase?

Modules:
  crossings     When does something that changes smoothly with time pass a given value?
  dusks         When does the Sun pass a depression in each of many nights, quickly?
  moon_phases   When is the Moon new or full, and when do the seasons begin?
  rise_and_set  When do things rise, culminate and set tonight? (With the Sun's own night, from
                `twilight`.)
  twilight      When does the Sun set, and when is it truly dark?
"""
