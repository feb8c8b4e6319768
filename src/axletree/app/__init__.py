"""The local app: the same answers as the commands, on a screen in the hand.

Modules:
  server    make_app(desk, hosts), run: routes, refusals in one sentence, sockets
  people    coming in, who leads, the event stream
  guard     Guard: hosts, origins, seats and the lead, security headers
  cookies   cookie_of: the cookies of ours that a browser sends
  withheld  coarse_kit: what those who only look may know of the place
  lights    light_of: day, dusk or red, before anybody pressed a button
  door      Door: how many connections, and for how long one may say nothing
  bodies    what is sent: small, in time, plain JSON
  plainly   plain_words: what of somebody's words may be shown to others
  state     Desk: the kit, the pages' settings, what is kept for one kit
  seats     Seats: who is here, who leads
  sharing   Sharing: the address and the code of the moment; QR codes
  events    Hub: server-sent events, for changes only
  course       Course: the stops to come and what was asked for; plan_night
  evening_run  Run: one night as planned, its course, the steps back
  ticks     what is ticked off, in the logbook
  pages     PAGES: the pages in the order of the job; render
  answers/  one module a subject: routes under /answer/, data from the floors below

A page is four things with one name, and nothing else knows of it:
  pages.PAGES               a row: name, word in the list, question, modules it loads
  templates/NAME.html       extends page.html, fills the block `sheet`: .reading (the answer),
                            .drawing, .control (in a <fieldset data-lead> what only the leader
                            may move), .more (reasons, cautions, assumptions)
  static/NAME.js            imports page.js (start, set, onSettings, onKit, tick, draft, busy),
                            link.js (ask, send, latest), pen.js (drawing), words.js (units)
  answers/NAME.py           `router = APIRouter()` with GET /answer/NAME...: `common.ask` gives a
                            command's own data; changes are PUT or POST outside /answer

Rules of the pages: nothing is fetched from elsewhere; no inline script or style (the policy
refuses it; `element.style` is allowed); words reach the page as text, never as markup; what is
typed goes through `draft` and `send`, so that a lost link loses nothing; no native <select>,
<dialog>, date picker or datalist (they escape the red layer); brass only for what can be moved.
"""
