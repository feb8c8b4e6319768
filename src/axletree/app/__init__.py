"""The local app: the same answers as the commands, on a screen in the hand.

Rooms:
  web       What reaches the browser, and what may come in: door (connections), guard (hosts,
            origins, the lead, headers), bodies, cookies, refusals, lights, pages
  people    Who is here: seats (who leads), sharing (address and code), line (whose question is
            answered next), turns (how much of the machine's time), withheld (what those who only
            look may know of the place), printable (names that others see)
  night     One night under way: runs (of the nights looked at), evening_run (EveningRun: its
            course, the steps back), course, rest (how a course goes on), ticks, told (what was
            told, made once), strip (of the sky)
  answers   One module a subject: routes under /answer/. Each reads its query, asks a stage,
            delivers its answer

Modules:
  server    make_app(desk, hosts), run: routes, refusals in one sentence, sockets
  memory    How does the app's memory stay flat over an evening with many visitors?
  state     Desk: the kit, the pages' settings, what is kept for one kit
  own_files OwnFiles: which files lie on the desk, and into which does its text go, where the site
            has one of its own? Which other sites and tubes lie beside the kit?
  mount_notes  Where is noted what was measured of the mount on this desk? What do its notes say?
  events    Hub: server-sent events, for changes only

A page is five things with one name, and nothing else knows of it:
  web.pages.PAGES           a row: name, word in the list, question
  templates/NAME.html       extends page.html, fills the block `sheet`: .reading (the answer),
                            .drawing, .control (in a <fieldset data-lead> what only the leader
                            may move), .more (reasons, cautions, assumptions)
  static/pages/NAME.js      imports shared/page.js (start, set, onSettings, onKit, tick, draft,
                            busy), link.js (ask, send, latest), pen.js (drawing); its parts, a
                            question each, are static/pages/NAME_PART.js
  static/words/NAME.js      the sentences that the browser makes; words/shared.js those of more
                            than one page; shared/words.js tells lengths, angles, times
  answers/ROOM/NAME.py      `router = APIRouter()` with GET /answer/NAME...; changes are PUT or
                            POST outside /answer

Rules of the pages: nothing is fetched from elsewhere; no inline script or style (the policy
refuses it; `element.style` is allowed); words reach the page as text, never as markup, and none
is read back; what is typed goes through `draft` and `send`, so that a lost link loses nothing; no
native <select>, <dialog>, date picker or datalist (they escape the red layer); brass only for what
can be moved.
"""
