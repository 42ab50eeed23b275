/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bridge.h: the page's one door to the core. A request is a JSON object in UTF-8, and so is the
 * response; nothing is kept between two requests but memory, so that a module that trapped can be
 * replaced by a new one.
 *
 * Every response has "ok". When it is false, "faults" is a list of
 *   {"line", "column", "path", "what", "found", "allowed", "remedy", "text"}
 * line and column count from 1 in the rig file's text (column in characters) and are 0 without a
 * place; path is the JSON path of the value, or "options.NAME" for an option of the question,
 * "request.NAME" for the request itself; "text" is all of it in one sentence. "remarks" has the
 * same form: what the reader assumed; it is there whenever a file was read.
 *
 * {"do": "answer", "question": "shore", "file": TEXT, "options": {...}, "units": "us"|"si",
 *  "as": ["html", "text", "data"], "prefix": "p"}
 *     prefix    letters and digits that every id in the html starts with; "" if left out
 *     question  a name of {"do": "questions"}; options as rig_answer_request_read of answer.h;
 *     units     may stand here instead of in the options; "as" may be left out: html and data
 *  -> {"ok": true, "question", "title", "about": [..], "answers": [{question, verdict, more}],
 *      "cautions": [..], "html": "<article class=\"sheet\">...</article>", "text": ...,
 *      "data": {the findings, as `--format json` has them under "findings"}, "remarks": [...]}
 *     html is the sheet of `--format html` without head and body: it wants {"do": "style"}.
 * {"do": "whole", "question", "file", "options", "format": "html"|"json"|"text"}
 *  -> {"ok": true, "text"}: the very bytes that the command line writes, to save or share
 * {"do": "questions"} -> {"ok": true, "questions": [{"name", "what", "needs_place", "is_long"}]}
 * {"do": "keys"}
 *  -> {"ok": true, "objects": [{"name", "what", "keys": [{"name", "names": [..], "kind", "unit",
 *      "units": [..], "low", "high", "choices": [..], "target", "object", "what", "example",
 *      "absent", "fill": [low, likely, high], "required"}]}]}
 *     The first object is the coach. kind: text format id reference references yes_no whole choice
 *     number figure object list. names and units: the key in SI and in US units. low and high are
 * in the first unit. object: of an object and of the items of a list, the name of its row here.
 *     target: what a reference names: circuits loads banks solar of the file, or a list below.
 * {"do": "list", "what":
 * "appliances"|"places"|"batteries"|"panels"|"supplies"|"conductors"|"ratings", "word": TEXT (may
 * be left out: rows that hold it), "most": N}
 *  -> {"ok": true, "what", "columns": [{"head", "unit"}], "rows": [[cell, ..], ..], "n": rows that
 *      hold the word, also those past "most"}
 * {"do": "find_place", "name": TEXT} -> {"ok": true, "found": name or null, "near": [names]}
 * {"do": "check", "file": TEXT} -> {"ok": true, "name", "cord_a", "place", "habits": [names],
 *      "n_circuits", ..., "remarks": [...]} or the faults
 * {"do": "write", "file": TEXT} -> {"ok": true, "text": the canonical text, "remarks"}
 * {"do": "accept", "file": TEXT, "options": {...}}
 *  -> {"ok": true, "text": the file with the figures that its readings settled, "n": how many}
 * {"do": "new", "name", "cord", "place", "loads": [{"profile", "count"}], "panel_w", "panel_bank":
 *  "house"|"chassis", "bank_ah", "chemistry"}; what is left out is as `rigbudget new` has it
 *  -> {"ok": true, "text"}
 * {"do": "budget", "file": TEXT, "supply": "50A"|..., "on": [load ids] (all if left out)}
 *  -> {"ok": true, "supply", "limit_a", "verdict", "legs": [{"name": "L1"|"L2"|"main"|"neutral",
 *      "amps": {low, likely, high}, "loaded_a": {..}, "watts": {..}, "limit_a", "verdict"}],
 *      "circuits": [{"id", "name", "supply": "ac"|"dc", "leg", "amps", "loaded_a", "watts",
 *      "limit_a", "verdict"}], "loads": [{"id", "name", "circuit", "supply", "leg", "count",
 *      "watts" of one}]}
 *     For the table beside the coach; the same figures as the question shore. limit_a is null where
 *     nobody says. verdict: fits depends over_continuous over. supply left out: the one that the
 *     cord fits. What is always on and the charger count whatever is on.
 * {"do": "explain", "about": id}
 *  -> {"ok": true, "about", "name", "what", "formula", "inputs": [..], "doubt",
 *      "sources": [{"key", "text"}]}; a source without a key says what stands in for one
 * {"do": "explain"} -> {"ok": true, "all": [the same for every id]}
 *     In the html of an answer, data-explain="id" stands on what an explanation belongs to: the
 *     section of an answer, the div of a fact, the head of a table's column, the figure of a chart.
 * {"do": "demo"} -> {"ok": true, "coaches": [{"id", "name", "notes", "text"}]}
 * {"do": "blank"} -> {"ok": true, "text": a coach with a cord and nothing else}
 * {"do": "style"} -> {"ok": true, "css": the sheet's}
 * {"do": "version"} -> {"ok": true, "version", "gsl", "cjson", "licence"}
 *
 * Progress: in a browser the module imports `rig.progress(done: f64) -> i32`, called now and then
 * during a long question; 0 ends the study early, and what it lacks is left out. A worker cannot
 * hear its page meanwhile: end it and start another. */
#ifndef PAGE_BRIDGE_H
#define PAGE_BRIDGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The exports of the module, beside `memory` and `_initialize` (call that once). A pointer into
 * memory goes stale when memory grows: make views anew after each call. */

/* Room for a request of n bytes; 0 (NULL) when memory is out. */
char *rig_page_alloc(size_t n);
void rig_page_release(char *room);
/* Answers the n bytes of a request. The response ends with a NUL, and holds no other; it
 * is to be given to rig_page_release. NULL when memory is out. */
char *rig_page_call(const char *request, size_t n);

/* Told how far a long question is, 0 to 1; false ends it early. */
typedef bool (*page_progress)(void *context, double done_frac);
/* The response to a request, to be freed with free(); NULL when memory is out. progress may be
 * NULL.
 */
char *page_respond(const char *request, size_t n, page_progress progress);

#endif
