/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answer.h: a question about a coach, answered: the studies that it takes, in the order that they
 * need, put into one document. The command line, the page and whoever calls the library ask here,
 * so that one question has one answer. */
#ifndef RIG_ANSWER_H
#define RIG_ANSWER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/coach.h"
#include "rigbudget/diag.h"
#include "rigbudget/document.h"
#include "rigbudget/report.h"
#include "rigbudget/shed.h"
#include "rigbudget/solar.h"
#include "rigbudget/weather.h"
#include "rigbudget/wiring.h"

typedef struct {
	size_t n;
	const char *const *word;
} rig_texts;

/* An upgrade as it is wished, in words that people write; NULL and 0 leave all as usual. Lengths,
 * weights and areas carry their unit: mm cm m ft in, kg lb, m2 ft2. */
typedef struct {
	const char *months;         /* "nov-feb", "jun,jul" or "all", instead of the month */
	const char *keep, *replace; /* parts parted by commas, of panels, bank and inverter */
	rig_texts loads;          /* AC loads that are to run away from hookups: id, name, "all" */
	const char *roof;         /* "33ftx8ft" */
	rig_texts obstacles;      /* "6ft,2ft,30inx30in": the nearest corner, then the sides */
	const char *gap;          /* "1in": between panels and along the edge */
	const char *battery_room; /* "3ftx18inx12in" */
	const char *max_price, *max_weight, *max_area; /* "2500", "500lb", "80ft2" */
	long max_panels, max_batteries;                /* -1: as usual */
	const char *runs;    /* "20ft,6ft,5ft": of wire, panels, controller, inverter */
	const char *compare; /* "1,3": options to set side by side, RIG_MOST_COMPARED at most */
} rig_size_words;

/* What goes with a question. Each question reads what concerns it and passes over the rest. */
typedef struct {
	rig_units units;
	rig_reader reader;     /* report: whom its order and depth are for */
	const char *date;      /* printed as given; NULL prints none */
	const char *inspector; /* the same */
	bool answers_only;     /* what no answer or caution says may be left out: figures, data */
	const char *run;       /* shore: id or name of a load that is to run; NULL: none */
	const char *supply;    /* shed: "50A", "30" or "generator"; NULL: the coach's own cord */
	rig_shed_weather day;  /* shed: hot, mild or cold */
	const char *place;     /* of the table of places; NULL: the file's */
	int month;         /* 0 to 11; -1: every month (solar), July or the whole weather (trip) */
	long n_days;       /* of the stay (trip, report), or random days (shed); 0: as usual */
	long n_trips;      /* stays to draw, 0 for none; -1: as usual */
	long n_side_trips; /* for each of the trip's side questions, 0 for none; -1: as usual */
	int64_t seed;      /* of the draws; -1: as usual */
	double wanted_out_frac; /* trip: stays that may run out; 0: as usual */
	long drive_every_days;  /* trip: one drives on each so manieth day; 0: never */
	bool drawn_days;   /* trip: days drawn like the weather's, not its own in other orders */
	const char *habit; /* name of a habit of the file; NULL: its first one */
	const rig_hourly_year *weather; /* trip, report: a year of hours; NULL: mean weather */
	size_t n_readings;
	const rig_reading
		*readings;          /* beside those of the file; their ids are those of its coach */
	double meter_frac, meter_a; /* what the meter may be off; 0 and 0: as usual */
	const rig_parts *parts;     /* size: a shop's list; NULL: the example */
	rig_size_words wish;        /* size */
	rig_copper copper;          /* wiring */
	bool next_size;             /* wiring */
	size_t n_threads;           /* 1 to RIG_MAX_THREADS; the answer is the same */
	rig_solar_skies *skies;     /* kept between questions; NULL: none */
	/* As in rig_trip_options: false ends a long study early, and what it lacks is left out. */
	bool (*progress)(void *context, double done_frac);
	void *context;
} rig_answer_options;

/* The month that a word names, from 0: at least three letters of it, or 1 to 12; -1 if none. */
int rig_month_named(const char *word);

/* Nothing said: US units, no date, a hot day, all else as usual, one thread. */
rig_answer_options rig_answer_defaults(void);

/* A question that can be asked. */
typedef struct {
	const char *name; /* "shore" */
	const char *what; /* what it asks, one line without a stop */
	bool needs_place; /* refused where neither file nor options name one */
	bool is_long;     /* may take more than a tenth of a second */
} rig_question;

size_t rig_n_questions(void);                  /* how many there are */
const rig_question *rig_question_at(size_t i); /* i below that number */

/* Answers a question about a file.
 *   question   the name of one
 *   options    NULL for rig_answer_defaults()
 *   document   out: to be freed with rig_document_free; untouched unless RIG_OK. It holds nothing
 *              of the file.
 * RIG_NOT_FOUND: a word of the options is in no table, or two of them contradict each other.
 * RIG_BAD_INPUT: the file lacks what is asked for, or its figures give no answer. In both cases
 * diags (may be NULL) says why: the path of an entry is the name of the option, or "" for the file.
 * RIG_NO_MEMORY. */
rig_status rig_answer(const rig_file *file, const char *question, const rig_answer_options *options,
	rig_diags *diags, rig_document **document);

/* What differs between two files, which answers of the whole sheet change by it, and the main
 * figures of both; statuses as above. */
rig_status rig_answer_compare(const rig_file *before, const rig_file *after,
	const rig_answer_options *options, rig_diags *diags, rig_document **document);

/* The file's text with the figures that readings settled, as rig_readings_accepted; statuses as
 * above. *text is to be freed with free(); n may be NULL. */
typedef struct {
	char *text;
	size_t n; /* figures that were changed */
} rig_accepted;
rig_status rig_answer_accept(const rig_file *file, const rig_answer_options *options,
	rig_diags *diags, rig_accepted *accepted); /* untouched unless RIG_OK */

/* The file with the parts of an option of the question `size` in it, as rig_size_text.
 *   option   from 0
 *   text     to be freed with free()
 * RIG_NOT_FOUND: there is no such option; other statuses as above. */
rig_status rig_answer_option(const rig_file *file, const rig_answer_options *options, size_t option,
	rig_diags *diags, char **text);

/* ---- options as JSON ---- */

/* Options that were read from a text, and what they point to. */
typedef struct rig_answer_request rig_answer_request;

/* Reads options from a JSON object. Keys, all of which may be left out:
 *   months, keep, replace, roof, gap, battery_room, max_price, max_weight, max_area, runs, compare
 *   texts, and load, obstacle  lists of texts, as in rig_size_words; max_panels, max_batteries
 *   units "us", "si"; for "buyer", "owner", "shop"; date, inspector, run, supply, place,
 *   habit  texts; day "hot", "mild", "cold";
 *   month 1 to 12; days, trips, side_trips, seed, drive_every  whole numbers;
 *   wanted  percent of stays that may run out; drawn  true or false; weather  the text of an hourly
 *   year; parts  the text of a parts file; table  readings as comma-separated values; read  an
 * array of readings in words; meter_percent, meter_a  numbers; copper "awg", "sae"; next_size  true
 * or false. RIG_BAD_INPUT: each fault is in diags with its place in the JSON, or, under the path
 * `weather`, `parts`, `table` or `read[0]`, with its place in that text. RIG_NO_MEMORY. *request is
 * untouched unless RIG_OK, and free it with rig_answer_request_free; it must not outlive the file.
 */
rig_status rig_answer_request_read(const char *text, size_t length, const rig_file *file,
	rig_diags *diags, rig_answer_request **request);
/* The options read; belongs to the request. Threads, progress and context are the caller's to set.
 */
rig_answer_options *rig_answer_request_options(rig_answer_request *request);
void rig_answer_request_free(rig_answer_request *request);

#endif
