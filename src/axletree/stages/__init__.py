"""Each stage of the job as one function: kit and typed request in, one frozen answer out.

This floor puts the answers of the floors below together and computes nothing that belongs to one
of them. What comes back holds figures with their errors, and reasons, warnings and assumptions as
enumerations with their figures, never sentences: text, JSON, drawings, paper and pages are made
from it in `tell`, side by side. A command parses, asks and delivers; a route reads its query,
asks and delivers. No file is read here but those that the kit names beside itself, no clock.

One module a stage, each with `NameRequest`, `NameAnswer` and the function `name`:
  balance    BalanceRequest, BalanceAnswer, balance: where weights and tube go, what can tip
  balance_locks  LocksRequest, LocksAnswer, balance_locks: what an opened axis does
  evening    EveningRequest, EveningAnswer, evening: what is shown, when, in which order
  check      CheckRequest, CheckAnswer, check; turned: how far the axis is off, what to turn; what
             one measurement says by itself stands in check_findings
  follow     FollowRequest, FollowAnswer, follow: which knob, which way, how fast, how often
  enough     EnoughRequest, EnoughAnswer, enough: how good the axis must be, which method
  kit_check  KitCheckRequest, KitCheckAnswer, kit_check: is the kit right, what is guessed
  level      LevelRequest, LevelAnswer, level: which leg, how much
  night      objects, best_nights, calendar, in a room of their own
  north      NorthRequest, NorthAnswer, north: which way is the pole, by every method
  place      PlaceRequest, PlaceAnswer, place: which place is meant
  point      PointRequest, PointAnswer, point: which side, how far, is the eyepiece in reach
  pole       PoleRequest, PoleAnswer, pole: what to set, where the star goes, what to turn
  room       RoomRequest, RoomAnswer, room: where in the sky each side can follow
  spot       SpotRequest, SpotAnswer, spot: where the tripod goes
  teach      TeachAnswer, teach: the stars that turn over the mount
  where      WhereRequest, WhereAnswer, where: where an object stands
"""
