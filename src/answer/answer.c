/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The questions, one row each. */
#include "rigbudget/answer.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "answer/asking.h"
#include "base/suggest.h"

enum { MOST_NEAR = 3, MAX_WORDS = 400 };

typedef struct {
	rig_question question;
	rig_status (*study)(rig_asking *asking, rig_found *found);
} question_row;

static const question_row QUESTIONS[] = {
	{{"claims", "what the seller says of the coach, held against its figures", false, true},
		rig_answer_claims},
	{{"shore", "what runs together on 50 A, 30 A, 20 A and 15 A, volts and starts", false,
		 false},
		rig_answer_shore},
	{{"shed", "what the energy manager switches off in a day, and whether a breaker trips",
		 false, true},
		rig_answer_shed},
	{{"solar", "what the solar panel is worth, month by month", true, false}, rig_answer_solar},
	{{"trip", "days without hookups: when the battery gives out, and why", true, true},
		rig_answer_trip},
	{{"size", "which panels, batteries and inverter carry the loads, off a parts list", true,
		 true},
		rig_answer_size},
	{{"readings", "what a meter's readings say of each load, the battery and the panel", false,
		 false},
		rig_answer_readings},
	{{"wiring", "which wire and which fuse, and whether those that are there will do", false,
		 false},
		rig_answer_wiring},
	{{"oneline", "the one-line diagram of the coach, with ratings and wire sizes", false,
		 false},
		rig_answer_oneline},
	{{"report", "the whole finding sheet", false, true}, rig_answer_sheet},
};
enum { N_QUESTIONS = sizeof QUESTIONS / sizeof QUESTIONS[0] };

size_t rig_n_questions(void)
{
	return N_QUESTIONS;
}

const rig_question *rig_question_at(size_t i)
{
	assert(i < N_QUESTIONS);
	return &QUESTIONS[i].question;
}

rig_answer_options rig_answer_defaults(void)
{
	return (rig_answer_options){.month = -1,
		.n_trips = -1,
		.n_side_trips = -1,
		.seed = -1,
		.wish = {.max_panels = -1, .max_batteries = -1},
		.n_threads = 1};
}

rig_status rig_asking_refuse(const rig_asking *asking, rig_status status, const rig_diag *why)
{
	rig_diags_add(asking->diags, why);
	return status;
}

rig_status rig_asking_needs_place(const rig_asking *asking)
{
	return rig_asking_refuse(asking, RIG_BAD_INPUT,
		&(rig_diag){.what = "the sun depends on the place, and the file names none "
				    "with known weather",
			.mend = "add \"place\": {\"name\": \"...\"} to the file, or say the place "
				"with the question"});
}

static rig_status refuse_place(const rig_asking *asking, const char *name)
{
	char mend[MAX_WORDS];
	size_t near[MOST_NEAR], length = 0;
	const size_t n = rig_place_suggest(name, MOST_NEAR, near);
	for (size_t i = 0; i < n; i++) {
		rig_place place;
		rig_place_at(near[i], &place);
		length += (size_t)snprintf(mend + length, sizeof mend - length, "%s%s",
			i == 0 ? "did you mean " : " or ", place.name);
	}
	snprintf(mend + length, sizeof mend - length, "%s",
		n > 0 ? "?" : "name a town of the list of places, or none");
	return rig_asking_refuse(asking, RIG_NOT_FOUND,
		&(rig_diag){.where.path = "place",
			.what = "the table has no such place, or several",
			.found = name,
			.mend = mend});
}

static rig_status find_place(rig_asking *asking)
{
	const char *name = asking->options->place;
	if (name != NULL) {
		const long found = rig_place_find(name);
		if (found < 0)
			return refuse_place(asking, name);
		rig_place_at((size_t)found, &asking->place);
		asking->has_place = true;
		return RIG_OK;
	}
	const rig_place *place = rig_file_place(asking->file, NULL);
	asking->has_place = place != NULL;
	if (place != NULL)
		asking->place = *place;
	return RIG_OK;
}

static const char *habit_at(const void *coach, size_t i)
{
	return ((const rig_coach *)coach)->habits[i].name;
}

static rig_status refuse_habit(const rig_asking *asking, const char *name)
{
	const rig_coach *coach = asking->coach;
	char allowed[MAX_WORDS] = "", mend[MAX_WORDS] = "leave it out";
	size_t length = 0;
	for (size_t i = 0; i < coach->n_habits && length < sizeof allowed; i++)
		length += (size_t)snprintf(allowed + length, sizeof allowed - length, "%s%s",
			i > 0 ? ", " : "", coach->habits[i].name);
	const char *near = rig_suggest(name, coach->n_habits, habit_at, coach);
	if (near != NULL)
		snprintf(mend, sizeof mend, "did you mean %s?", near);
	return rig_asking_refuse(asking, RIG_NOT_FOUND,
		&(rig_diag){.where.path = "habit",
			.what = "the file has no such habit",
			.found = name,
			.allowed = coach->n_habits > 0 ? allowed : "none: the file has no habits",
			.mend = mend});
}

static rig_status find_habit(rig_asking *asking)
{
	const rig_coach *coach = asking->coach;
	const char *name = asking->options->habit;
	asking->habit = coach->n_habits > 0 ? 0 : -1;
	for (size_t i = 0; name != NULL && i < coach->n_habits; i++) {
		if (strcasecmp(coach->habits[i].name, name) == 0) {
			asking->habit = (int)i;
			return RIG_OK;
		}
	}
	return name == NULL ? RIG_OK : refuse_habit(asking, name);
}

static const char *question_at(const void *context, size_t i)
{
	(void)context;
	return QUESTIONS[i].question.name;
}

static const question_row *find_question(const rig_asking *asking, const char *name)
{
	for (size_t i = 0; i < N_QUESTIONS; i++)
		if (strcmp(QUESTIONS[i].question.name, name) == 0)
			return &QUESTIONS[i];
	char mend[MAX_WORDS] = "";
	const char *near = rig_suggest(name, N_QUESTIONS, question_at, NULL);
	if (near != NULL)
		snprintf(mend, sizeof mend, "did you mean %s?", near);
	rig_asking_refuse(asking, RIG_NOT_FOUND,
		&(rig_diag){.where.path = "question",
			.what = "there is no such question",
			.found = name,
			.mend = mend});
	return NULL;
}

/* Where a study said only its status, the words for it. */
rig_status rig_asking_said(const rig_asking *asking, size_t n_before, rig_status status)
{
	if (status == RIG_OK || status == RIG_NO_MEMORY || asking->diags == NULL ||
		rig_diags_faults(asking->diags) > n_before)
		return status == RIG_NO_SOLUTION ? RIG_BAD_INPUT : status;
	return rig_asking_refuse(asking, RIG_BAD_INPUT,
		&(rig_diag){.what = "nothing could be worked out of these figures",
			.found = rig_status_text(status),
			.mend = "look for a figure that is far too large or too small"});
}

void rig_found_free(rig_found *found)
{
	rig_sources_free(found->sources);
	rig_voltage_free(found->voltage);
	rig_shore_free(found->shore);
	rig_shed_free(found->shed);
	rig_solar_free(found->solar);
	rig_trip_free(found->trip);
	rig_readings_free(found->readings);
	rig_wiring_free(found->wiring);
	rig_oneline_free(found->oneline);
	rig_claim_free(found->claims);
	rig_size_free(found->size);
	rig_parts_free(found->parts);
	free(found->joined);
}

/* An option to be compared must be there. */
static rig_status check_compared(const rig_asking *asking, const rig_found *found)
{
	for (size_t i = 0; found->size != NULL && i < asking->n_compare; i++)
		if (asking->compare[i] >= (int)found->size->n_options)
			return rig_asking_refuse(asking, RIG_NOT_FOUND,
				&(rig_diag){.where.path = "compare",
					.what = "an option to be compared is not there",
					.mend = "leave it out and look at the list of options"});
	return RIG_OK;
}

rig_status rig_asking_write(
	const rig_asking *asking, const rig_found *found, rig_document **document)
{
	const rig_report_findings all = {.shore = found->shore,
		.voltage = found->voltage,
		.sources = found->sources,
		.shed = found->shed,
		.solar = found->solar,
		.trip = found->trip,
		.readings = found->readings,
		.wiring = found->wiring,
		.oneline = found->oneline,
		.claims = found->claims,
		.size = found->size};
	rig_report_options words = {.units = asking->options->units,
		.reader = asking->options->reader,
		.date = asking->options->date,
		.inspector = asking->options->inspector,
		.run = asking->run,
		.answers_only = asking->options->answers_only};
	for (size_t i = 0; found->size != NULL && i < asking->n_compare; i++)
		words.compare[words.n_compare++] = asking->compare[i];
	return rig_report(asking->coach, &all, &words, document);
}

rig_status rig_asking_begin(rig_asking *asking)
{
	asking->coach = rig_file_completed(asking->file);
	const rig_status status = find_place(asking);
	return status == RIG_OK ? find_habit(asking) : status;
}

rig_status rig_answer(const rig_file *file, const char *question, const rig_answer_options *options,
	rig_diags *diags, rig_document **document)
{
	const rig_answer_options usual = rig_answer_defaults();
	rig_asking asking = {
		.file = file, .options = options != NULL ? options : &usual, .diags = diags};
	rig_found found = {0};
	const question_row *row = find_question(&asking, question);
	if (row == NULL)
		return RIG_NOT_FOUND;
	const size_t n_before = diags != NULL ? rig_diags_faults(diags) : 0;
	rig_status status = rig_asking_begin(&asking);
	if (status == RIG_OK)
		status = row->study(&asking, &found);
	if (status == RIG_OK)
		status = check_compared(&asking, &found);
	if (status == RIG_OK)
		status = rig_asking_write(&asking, &found, document);
	rig_found_free(&found);
	return rig_asking_said(&asking, n_before, status);
}

rig_status rig_answer_accept(const rig_file *file, const rig_answer_options *options,
	rig_diags *diags, rig_accepted *accepted)
{
	const rig_answer_options usual = rig_answer_defaults();
	rig_asking asking = {
		.file = file, .options = options != NULL ? options : &usual, .diags = diags};
	rig_found found = {0};
	const size_t n_before = diags != NULL ? rig_diags_faults(diags) : 0;
	rig_status status = rig_asking_begin(&asking);
	if (status == RIG_OK)
		status = rig_answer_readings(&asking, &found);
	if (status == RIG_OK) {
		size_t n = 0;
		char *text = rig_readings_accepted(rig_file_coach(file), found.readings, &n);
		status = text == NULL ? RIG_NO_MEMORY : RIG_OK;
		if (text != NULL)
			*accepted = (rig_accepted){.text = text, .n = n};
	}
	rig_found_free(&found);
	return rig_asking_said(&asking, n_before, status);
}

static rig_status write_option(
	const rig_asking *asking, const rig_found *found, size_t option, char **text)
{
	char allowed[MAX_WORDS];
	const size_t n = found->size->n_options;
	if (option < n)
		return rig_size_text(asking->file, found->size, option, text);
	snprintf(allowed, sizeof allowed, "1 to %zu", n);
	return rig_asking_refuse(asking, RIG_NOT_FOUND,
		&(rig_diag){.where.path = "write-option",
			.what = "there is no such option",
			.allowed = n > 0 ? allowed : "none: nothing of the list will do",
			.mend = "look at the report first, asked in the same way"});
}

rig_status rig_answer_option(const rig_file *file, const rig_answer_options *options, size_t option,
	rig_diags *diags, char **text)
{
	const rig_answer_options usual = rig_answer_defaults();
	rig_asking asking = {
		.file = file, .options = options != NULL ? options : &usual, .diags = diags};
	rig_found found = {0};
	const size_t n_before = diags != NULL ? rig_diags_faults(diags) : 0;
	rig_status status = rig_asking_begin(&asking);
	if (status == RIG_OK)
		status = rig_answer_size(&asking, &found);
	if (status == RIG_OK)
		status = write_option(&asking, &found, option, text);
	rig_found_free(&found);
	return rig_asking_said(&asking, n_before, status);
}
