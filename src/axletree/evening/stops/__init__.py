"""From when to when can an object be shown, and what do the hands need at its stop?

Modules:
  bodies       What do Moon, planets and double stars show at their stops? `with_bodies`
  facts        How do an order's decisions become stops with every figure that hands and eye need?
  findings     How is the object of each stop found, from where the evening's mount stands?
  outcome      How good is the order, what got no stop, why is it empty, and why does the
               host wait?
  own_circles  What do the circles of the person's own mount show at each stop, and how well known?
  placing      Which object could be shown when, and how does an order of them become stops with
               their facts?
  ring_advice  How should the focuser stand around the tube tonight, and what does that cost each
               stop?
  room_ahead   From when to when does each tube side serve an object, what ends it, and where is the
               eye?
  set_on_star  On which star is the hour circle set before a stop, and what does it show there and
               then?
  stop         What do the hands and the eye need at one stop: side, room, circles, eyepiece, nudge?
  to_find      What does finding have to know of an object: the sky behind it, whether the finder
               shows it?
  tonight      What happens in a session on the bodies that could be shown, and when is a stop worth
               more for it?
  windows      When can each object be shown, on each tube side, without the room ending?
"""
