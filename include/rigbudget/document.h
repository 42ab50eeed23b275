/* SPDX-License-Identifier: GPL-3.0-or-later */
/* document.h: a report as data, before it becomes text, HTML or JSON: a title, then blocks in
 * reading order. Every text is plain UTF-8 without markup; each renderer escapes for itself, so a
 * name out of a coach file may hold anything.
 *
 * A document is built from top to bottom by the functions below. They copy what they are given and
 * return nothing: the first failure (memory out, a figure that is not finite) is remembered, later
 * calls do nothing, and rig_document_status and each renderer say so. */
#ifndef RIG_DOCUMENT_H
#define RIG_DOCUMENT_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/status.h"

struct cJSON;

typedef enum {
	RIG_BLOCK_HEADING,
	RIG_BLOCK_ANSWER,    /* a question, its answer in a sentence, a few more: read first */
	RIG_BLOCK_PARAGRAPH, /* whole sentences */
	RIG_BLOCK_LIST,      /* short items, no order */
	RIG_BLOCK_FACTS,     /* name and value, one a line */
	RIG_BLOCK_TABLE,
	RIG_BLOCK_CHART,
	RIG_BLOCK_DIAGRAM,
	RIG_BLOCK_BREAK,  /* the summary ends; what follows begins a page. At most one */
	RIG_BLOCK_CAUTION /* a list that must be seen: what can hurt, and whom to ask */
} rig_block_kind;

typedef enum { RIG_ALIGN_LEFT, RIG_ALIGN_RIGHT } rig_align;

/* One column: what it holds and in which unit ("" for words). */
typedef struct {
	const char *head;
	const char *unit;
	rig_align align;
} rig_column;

/* A table with a head row. The first column names the row. cells has n_rows * n_columns texts, row
 * by row; "" is an empty cell. */
typedef struct {
	const char *caption;
	size_t n_columns, n_rows;
	const rig_column *columns;
	const char *const *cells;
} rig_table;

typedef enum {
	RIG_CHART_MONTHS, /* upright bars with their range, one a month, against stepped lines */
	RIG_CHART_LADDER, /* lying bars against upright lines that all share */
	RIG_CHART_LIMITS, /* lying bars, each against a limit of its own, in groups */
	RIG_CHART_COURSE, /* lines with bands over time */
	RIG_CHART_LANES   /* stretches of time, one lane for each thing */
} rig_chart_kind;

/* low <= likely <= high, all finite; all three the same where there is no doubt. */
typedef struct {
	double low, likely, high;
} rig_span;

/* What a bar says beside its length. Shown as a pattern and in words, never by colour alone. */
typedef enum {
	RIG_BAR_PLAIN,
	RIG_BAR_HOLDS,
	RIG_BAR_CLOSE,
	RIG_BAR_FAILS,
	RIG_N_BAR_STATES
} rig_bar_state;

typedef struct {
	const char *group; /* stands above the first bar of each group; NULL without groups */
	const char *label; /* what the bar is */
	rig_span value;    /* >= 0 */
	double limit;      /* > 0; 0 if it has none (limits only) */
	rig_bar_state state;
	const char *note; /* a few words at the end of the bar, after the value; "" for none */
} rig_bar;

/* A line: over the months (one y a bar), over the ladder (the first y only), or over time. */
typedef struct {
	const char *label; /* short: stands at the line */
	size_t n;
	const double *x;   /* course only, rising; NULL otherwise */
	const rig_span *y; /* with doubt: drawn as a band around the line */
	bool level;        /* a level to compare with, not a thing that happens: drawn dashed */
} rig_line;

/* A stretch of time in which something holds. */
typedef struct {
	double from, to; /* from < to */
	rig_bar_state state;
} rig_stretch;

typedef struct {
	const char *label;
	size_t n;
	const rig_stretch *stretches; /* in time; they do not overlap */
} rig_lane;

typedef struct {
	rig_chart_kind kind;
	const char *title;      /* what is shown, as a phrase */
	const char *quantity;   /* what the lengths are: "harvest at the battery" */
	const char *unit;       /* "Wh a day" */
	const char *x_quantity; /* course and lanes: "days since leaving" */
	double x_first, x_last; /* lanes only: x_first < x_last; every stretch lies between */
	double x_step;          /* course and lanes: between the numbers along x; 0 to choose */
	bool tells_highest;     /* course only: in words the highest point counts, not the lowest */
	/* What each state means here: "covers the standing draw"; "" or NULL where not used. */
	const char *state_text[RIG_N_BAR_STATES];
	double y_top;    /* course only: top of the scale, such as 100 for percent; 0 to fit */
	bool points;     /* course only: lines that are no level are drawn as single points,
			    numbered from 1, with their range */
	double y_bottom; /* course only: bottom of the scale, under every point; usually 0 */
	size_t n_bars, n_lines;
	const rig_bar *bars;
	const rig_line *lines;
	size_t n_lanes;
	const rig_lane *lanes;
} rig_chart;

/* Graphic symbols of a one-line diagram, after IEEE 315 and IEC 60617. */
typedef enum {
	RIG_SYMBOL_NONE, /* the line itself, or its open end */
	RIG_SYMBOL_INLET,
	RIG_SYMBOL_GENERATOR,
	RIG_SYMBOL_ALTERNATOR,
	RIG_SYMBOL_SOLAR,
	RIG_SYMBOL_BATTERY,
	RIG_SYMBOL_TRANSFER,
	RIG_SYMBOL_MANAGER,
	RIG_SYMBOL_BREAKER,
	RIG_SYMBOL_FUSE,
	RIG_SYMBOL_BUS,
	RIG_SYMBOL_CONVERTER, /* AC to DC */
	RIG_SYMBOL_INVERTER,  /* DC to AC */
	RIG_SYMBOL_INVERTER_CHARGER,
	RIG_SYMBOL_CONTROLLER, /* DC to DC */
	RIG_SYMBOL_LOADS,
	RIG_SYMBOL_OPEN_END,
	RIG_N_SYMBOLS
} rig_symbol;

/* Where an item of a diagram stands. */
typedef enum {
	RIG_PLACE_STEM,   /* below the one before, on the upright line from the sources */
	RIG_PLACE_BESIDE, /* beside the one before; both lead to the one after */
	RIG_PLACE_BUS,    /* a bar that its rows hang on */
	RIG_PLACE_ROW     /* on a line to the right of its bus */
} rig_place_kind;

/* One item of a diagram with the line that leads to it. Texts are "" where there is nothing to
 * say. */
typedef struct {
	int parent; /* an item before it, which it hangs on: rows on a bus, the rest on any; -1 */
	rig_place_kind place;
	rig_symbol symbol;
	rig_symbol via;          /* on the line before the symbol, such as a controller; NONE */
	rig_symbol guard;        /* BREAKER, FUSE or NONE */
	const char *rating;      /* of the guard: "20 A" */
	const char *rating_more; /* "2 poles" */
	const char *size;        /* of the conductors: "12 AWG" */
	const char *length;      /* "24 ft" */
	const char *name;
	const char *text;
	int joins; /* an item that a line across leads to, after or before it; -1 */
} rig_diagram_item;

/* A one-line diagram: a forest of items in the order in which they are told, and lines across. */
typedef struct {
	const char *title;
	const char *note; /* what it is not */
	size_t n_items;
	const rig_diagram_item *items;
} rig_diagram;

typedef struct {
	const char *name, *value;
	const char *origin; /* where the value comes from; "" if that goes without saying */
} rig_fact;

typedef struct {
	rig_block_kind kind;
	int level;                /* heading: 2 or 3 */
	const char *head;         /* heading, answer (the question), caution and list (may be "") */
	const char *verdict;      /* answer */
	const char *text;         /* paragraph, answer */
	size_t n_items;           /* list, caution, facts */
	const char *const *items; /* list, caution */
	const rig_fact *facts;
	const rig_table *table;
	const rig_chart *chart;
	const rig_diagram *diagram;
} rig_block;

typedef struct rig_document rig_document; /* what goes on a sheet, in order */

/* An empty document; NULL when memory is out. */
rig_document *rig_document_new(void);
void rig_document_free(rig_document *document);

/* RIG_OK, or the first failure: RIG_NO_MEMORY, or RIG_BAD_INPUT for a figure that is not finite. */
rig_status rig_document_status(const rig_document *document);
/* Remembers a failure found by the caller. */
void rig_document_fail(rig_document *document, rig_status status);

void rig_document_title(rig_document *document, const char *format, ...)
	__attribute__((format(printf, 2, 3))); /* what the sheet is called */
/* A line under the title: what was looked at. Several may be added. */
void rig_document_subtitle(rig_document *document, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* level 2 opens a part of the document, 3 a part of that. */
void rig_add_heading(rig_document *document, int level, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
/* verdict: the answer in one sentence; the text goes on from there and may be "". */
void rig_add_answer(rig_document *document, const char *question, const char *verdict,
	const char *format, ...) __attribute__((format(printf, 4, 5)));
void rig_add_paragraph(rig_document *document, const char *format, ...)
	__attribute__((format(printf, 2, 3))); /* words between the answers */
/* Items go to the list or caution added last; an item that it holds already is not added again. */
void rig_add_list(rig_document *document, const char *head);
void rig_add_caution(rig_document *document, const char *head);
void rig_add_item(rig_document *document, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* Facts that follow one another make one list. */
void rig_add_fact(rig_document *document, const char *name, const char *value, const char *origin);
void rig_add_table(rig_document *document, const rig_table *table);       /* a table of its own */
void rig_add_chart(rig_document *document, const rig_chart *chart);       /* a chart of its own */
void rig_add_diagram(rig_document *document, const rig_diagram *diagram); /* a diagram of its own */
/* Ends the summary: all before it is one, and a heading follows. Once in a document. */
void rig_add_break(rig_document *document);
/* Whether the document has a summary. */
bool rig_document_has_summary(const rig_document *document);

/* The figures behind the words, as a tree that the JSON rendering prints: an object, empty at
 * first. The document owns it; whoever adds to it tells rig_document_fail if memory ran out. */
struct cJSON *rig_document_data(rig_document *document);

/* What was built, for renderers. Belongs to the document. */
const char *rig_document_title_text(const rig_document *document);
size_t rig_document_n_subtitles(const rig_document *document);
const char *rig_document_subtitle_at(const rig_document *document, size_t i);
size_t rig_document_n_blocks(const rig_document *document);
const rig_block *rig_document_block_at(const rig_document *document, size_t i);

/* Renderers. *text is to be freed with free() and untouched unless RIG_OK; other statuses are those
 * of rig_document_status, and RIG_NO_MEMORY. The same document always gives the same bytes. */

/* Plain text of at most 80 columns. Control characters and characters that change the direction of
 * writing are shown as <U+202E>. emphasis: headings in bold by terminal codes, nothing else. */
rig_status rig_document_text(const rig_document *document, bool emphasis, char **text);

/* One self-contained HTML file: no script, nothing fetched, charts inside, for screen and paper. */
rig_status rig_document_html(const rig_document *document, char **text);

/* The same as one <article class="sheet"> to put into a page: every id in it starts with the
 * prefix, which holds letters, digits and hyphens. Wants the style below. */
rig_status rig_document_article(const rig_document *document, const char *prefix, char **text);
const char *rig_document_style(void);

/* The data tree, indented, every number with all its digits; with the title and the sentences of
 * the answers, so that a program need not take apart the text. */
rig_status rig_document_json(const rig_document *document, char **text);

/* The same on one line without blanks or a newline; without findings also without the data tree. */
rig_status rig_document_json_line(const rig_document *document, bool findings, char **text);

#endif
