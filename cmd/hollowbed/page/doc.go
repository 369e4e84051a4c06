// Package page is the local web page of the command open: one page on this
// machine alone, for people who would rather look than type. It serves what
// the other commands compute, through the same functions; handlers read a
// request, ask the session, and write a document of report.
//
// Input is a Garden (its files, plant table, search index); output is an
// http.Handler. It leaves out accounts, the network, and any arithmetic.
//
// # Who may ask
//
// The address printed holds a key: http://127.0.0.1:PORT/?key=KEY. The first
// visit turns it into a cookie (HttpOnly, SameSite=Strict) of a path that the
// run has made up, and goes on there: browsers hand cookies to every port of a
// host, and no other server knows the path. All routes lie below it; every
// request needs path and cookie. Host must be 127.0.0.1, localhost or [::1] with
// the port; requests from other sites are refused (Origin, Sec-Fetch-Site); every
// POST is application/json, at most 1 MB. There is one session: all windows see
// one draft.
//
// # Routes
//
// All of /api answers JSON. What is shown to people is worded already and in
// the units of the garden; the page converts and computes nothing. Fields
// that end in _m, _mm or _share are plain numbers, for drawing only.
//
//	GET  /                     the page (assets/index.html)
//	GET  /assets/NAME          style, scripts, icons: a flat folder, ES modules
//	GET  /api/state            State
//	GET  /api/state?after=7&window=x   State once its tick is above 7, or after 20 s as it is (long poll); at most 4
//	                           wait for one window, whatever it calls itself, and 64 for all
//	POST /api/try              {version, changes:{"bed.length":"20 ft", ...}} -> State; "" removes the key;
//	                           {} takes up work that was stopped
//	POST /api/wish             {id, wish:"wanted"|"unwanted"|""} -> State (edits wishes.wanted, wishes.unwanted)
//	POST /api/move             {stake, x_m, y_m} -> State: a plant put down elsewhere (draft of planted.csv)
//	POST /api/shape            {handle, x_m, y_m, keep, version} -> {words, doubts:[words], outline}; with keep -> State:
//	                           a handle of the plan moved, in garden.yaml
//	POST /api/scatter          {} -> State: forgets places put by hand and not saved
//	POST /api/undo             {} -> State;  POST /api/redo {} -> State
//	POST /api/units            {units:"us"|"metric"} -> State (for this session; not saved)
//	POST /api/place            {x_m, y_m} -> Place
//	POST /api/risk             {stake or id, x_m, y_m} -> Risk (while dragging)
//	POST /api/plant            {id} -> PlantCard
//	POST /api/compare          {a, b} -> {rows:[{label, a, b}], a:PlantCard, b:PlantCard}
//	POST /api/find             {query, in, limit, sort} -> Finds;  GET /api/find.csv?query=&in=&sort= the hits as a plant table
//	GET  /api/water?play=wettest|driest -> Water
//	POST /api/save             {revision, version} -> State; 409 with Conflict
//	POST /api/reload           {} -> State: takes the files from disk; the draft goes on the undo steps
//	POST /api/keep             {} -> State: the places proposed become the draft's planted.csv
//	GET  /api/care             {blocks}: the first year of what is planted, or of the list
//	GET  /api/season           Season: what can be noted, notes so far, causes
//	GET  /api/photo/NAME       a photograph that a note names, of the folder photos alone
//	POST /api/note             {stake, date, vigour, signs:["yellow", "not eaten", ...], remark, corrects, strike}, or
//	                           of the bed itself {date, pond:"4 in at 8:00, gone by 20:00", sun:"bottom 10:00-14:00"} ->
//	                           Season; written to season.csv at once, which is only ever added to
//	GET  /api/moves            Moves
//	POST /api/moves/apply      {accepted:[stake, ...], revision} -> Moves; 409 if planted.csv changed on disk or is
//	                           not saved, 422 if a group is not accepted whole
//	GET  /api/progress         Progress
//	POST /api/stop             {} -> State: what is being worked out is dropped
//	GET  /api/plan.svg, /api/section.svg, /api/bloom.svg, /api/climate.svg   drawings to look at or print
//
// # Errors
//
// Status 400 (what was typed), 403 (not from this page), 404, 405, 409 (changed
// meanwhile), 413, 415, 422 (understood but cannot be, such as a plant the
// table does not have), 500, 503 (too many requests at once). The body is
//
//	{"error":"words", "faults":[{"key":"bed.length","value":"20","want":"want a length with its unit ..."}]}
//
// key is that of a field of the state, of the request, or "".
// A change that makes the garden file wrong is kept in the draft nevertheless,
// so that one can go on typing: the answer is 200 with State.faults, and
// figures stay those of the last draft that could be worked out.
//
// # Documents
//
// State:
//
//	version        int    draft's number; rises with every change
//	tick           int    rises with anything that changes a State (also stages, places, disk)
//	figures_of     int    version that bed, zones, list and plan are of
//	places_of      int    version that plants are of (they follow a moment later)
//	busy           bool   something is being worked out; stages tell what
//	stages         [{name, words, state}]     state: waiting, running, done, stopped
//	stopped        bool   stopped by hand; figures are those of figures_of
//	failed         string why the newest draft could not be worked out, in words; ""
//	name, units("us"|"metric"), demo bool, folder string, read_only bool
//	saved          bool   the draft is what is on disk
//	unsaved        [words]                    what Save would write, a line each
//	revision       string of the files on disk, for /api/save
//	disk           null, or Conflict          the files changed on disk under the draft
//	undo, redo     string words of the step ("bed length back to 20 ft"); "" if none
//	fields         [{key, group, label, text, kind, choices, hint, default, set}]
//	               group: name site roof soil mix bed target sun weather wishes layout
//	               kind: quantity, number, text, choice, yesno, ids, months; text "" = left out
//	faults         [{key, line, value, want}]
//	bed            {rows:[{label, value}], checks:[{name, state:"ok"|"fails"|"unknown", found, wanted, source}],
//	                cautions:[words], volume, area, drains, captured}
//	record         words
//	year           [picture with its figures as a table, as package doc has it]
//	zones          [blocks of package doc]
//	list           {advice, lines:[{id, count}], blocks:[...], next:[...]}, as package doc has them
//	               level: "low" "some" "high" "unknown"
//	plan           {outline:[[x_m,y_m],...], box:[x0,y0,x1,y1], bands:[{zone, foot_mm, top_mm, words, rings:[[[x,y],...]]}],
//	                north_deg|null, inlet:{x_m,y_m,radius_m,name}, overflow:{...}, keep_free:[{name, x_m,y_m,radius_m | points}],
//	                obstacles:[{name, points | x_m,y_m,radius_m}], fixed:[{name,x_m,y_m}], scale:[{m, words}]}
//	               y points up the page (away from who looks); bands from the outside in: painting them in
//	               order, each over the one before, gives the bed
//	plants         [{stake, id, name, key, form, zone, x_m, y_m, radius_m, risk, risk_share, level, ground, sun,
//	                from_a, from_b, stayed, moved (by hand, not saved)}]
//	places         [blocks], once they are compared with chance
//	views          [{name, words, looks:[{look:"flower"|"green"|"bare"|"unsure", tone, words}]}]: the plan by season and by
//	               month; looks follow kinds
//	way            [blocks], ways to bring the water in
//
// Place: {inside, zone, ground, sun, wet, deepest, dry, words, lives:[{id,name,risk,risk_share,level,reason}], lives_n,
// standing: [stakes within reach]}; outside the bed inside is false and words says so.
//
// Risk: {stake, id, name, inside, zone, risk, risk_share, level, reason, here (risk where it stands), change
// ("better: 4 fewer of 100 lost a year"), clash: [words: too near TAR3, in the stones of the inlet]}
//
// PlantCard: {id, name, says, blocks, wish, standing:[stakes]}; two side by side: {names, blocks}
//
// Finds: {total, before:[blocks], hits:[{id, name, risk, risk_share, level, why:[blocks]}], also:[...], facets:[{field, label,
// values:[{value, count, query, on}]}], after:[blocks], nearest: id or ""}
// query of a facet value is the whole query with that condition added, or without it where it is on.
//
// Water: {play, title, words, step:"hour"|"day", frames:[{at, words, level_mm, ring, rain_share, rain, wet:[bool],
// bands:[share of the soil's water left, 0 to 1]}], rings:[{mm, words, rings}]}; ring is an index into rings, -1: no water
// stands; frames[i].bands has one for each of plan.bands, in that order.
//
// Conflict: {words, files:[{name, lines:[{sign:" "|"-"|"+", text}]}], revision}: - is the draft, + the disk.
// Save again with this revision to write the draft over it, or reload.
//
// Season: {ready bool, words, today, signs:[{sign,label,look}], vigour:[{value,label}], plants:[{stake, name,
// notes:[{entry, date, words, photo}], struggles, chances, causes:[blocks]}], pond_like, bed:[{entry, date, words, photo}]}; bed is
// what was seen of the bed itself, photo a NAME or "".
//
// Moves: {ready bool, before:[blocks], steps:[{stakes, blocks}], after:[blocks], revision, moves: as move --json has
// them}; the first block of a step says what is done with whom, and can be accepted or refused.
//
// Progress: {busy, stages:[{name, words, state}], version, figures_of, places_of}
package page
