/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Valid coaches whose every choice is drawn from the input, put to the question that its first byte
 * names, with the options that it names: the answer is written in every form, what must hold of any
 * findings does, and the same question gives the same words twice. */
#include <cjson/cJSON.h>
#include <string.h>

#include "check_findings.h"
#include "fuzz.h"
#include "random_coach.h"
#include "rigbudget/answer.h"
#include "rigbudget/folder.h"

/* Which options: 0 is those of old, with which the kept inputs were found. */
typedef unsigned variant;

static const char *const SUPPLIES[] = {
	NULL, "50A", "30A", "20A", "15A", "generator", "inverter", "nothing"};
enum { N_SUPPLIES = sizeof SUPPLIES / sizeof SUPPLIES[0] };

/* Few of each, so that a run is short. */
static rig_answer_options options_of(variant v)
{
	rig_answer_options options = rig_answer_defaults();
	options.place = "Flagstaff";
	options.n_days = 2;
	options.n_trips = 8;
	options.n_side_trips = 0;
	if (v == 0)
		return options;
	static rig_place place; /* its name stays in it */
	rig_place_at((size_t)v * 97 % rig_n_places(), &place);
	options.place = v % 5 == 0 ? NULL : place.name;
	options.units = v % 2 == 0 ? RIG_UNITS_US : RIG_UNITS_SI;
	options.reader = (rig_reader)(v % 3);
	options.date = v % 2 == 0 ? "2026-03-01" : NULL;
	options.run = v % 6 == 1 ? "load_0" : NULL;
	options.supply = SUPPLIES[v % N_SUPPLIES];
	options.day = (rig_shed_weather)(v / 2 % 3);
	options.month = (int)(v % 13) - 1;
	options.n_days = 1 + v % 4;
	options.n_side_trips = v % 7 == 3 ? 4 : 0;
	options.wanted_out_frac = v % 4 == 1 ? 0.3 : 0;
	options.drive_every_days = v % 3;
	options.drawn_days = v % 4 >= 2;
	options.habit = v % 6 == 2 ? "habit 0" : NULL;
	options.copper = v % 4 == 1 ? RIG_COPPER_SAE : RIG_COPPER_AWG;
	options.next_size = v % 3 == 1;
	options.wish.compare = v % 8 == 5 ? "1,2" : NULL;
	return options;
}

/* ---- every form ---- */

static void check_html(const char *html)
{
	MUST(strstr(html, "=\"nan") == NULL && strstr(html, "=\"inf") == NULL &&
		strstr(html, "=\"-nan") == NULL && strstr(html, "=\"-inf") == NULL);
	MUST(strstr(html, "<script") == NULL);
}

/* Nothing of a name can steer a terminal. */
static void check_text(const char *text)
{
	MUST(strstr(text, " nan") == NULL && strstr(text, " inf ") == NULL);
	for (const char *c = text; *c != '\0'; c++)
		MUST(((unsigned char)*c >= ' ' && *c != 0x7F) || *c == '\n');
	MUST(strstr(text, "\xE2\x80\xAE") == NULL);
}

static void check_folder(
	const rig_document *document, rig_status (*write)(const rig_document *, rig_folder **))
{
	rig_folder *folder = NULL;
	MUST(write(document, &folder) == RIG_OK);
	for (size_t i = 0; i < rig_folder_n_files(folder); i++) {
		const rig_folder_file *file = rig_folder_file_at(folder, i);
		MUST(strchr(file->name, '/') == NULL && file->name[0] != '.');
		MUST(strstr(file->text, "=\"nan") == NULL && strstr(file->text, ",nan") == NULL);
	}
	rig_folder_free(folder);
}

static void check_document(const rig_document *document)
{
	char *text = NULL;
	char *html = NULL;
	char *json = NULL;
	MUST(rig_document_text(document, false, &text) == RIG_OK);
	MUST(rig_document_html(document, &html) == RIG_OK);
	MUST(rig_document_json(document, &json) == RIG_OK);
	check_text(text);
	check_html(html);
	cJSON *tree = cJSON_Parse(json);
	MUST(tree != NULL);
	check_findings(cJSON_GetObjectItem(tree, "findings"));
	cJSON_Delete(tree);
	check_folder(document, rig_document_csv);
	check_folder(document, rig_document_svg);
	free(text);
	free(html);
	free(json);
}

/* ---- questions ---- */

/* A question of the table, or, beyond its end, what differs between two coaches. */
typedef struct {
	const rig_file *file, *other;
	size_t question;
	rig_answer_options options;
} asked;

static rig_status ask(const asked *it, rig_diags *diags, rig_document **document)
{
	if (it->question == rig_n_questions())
		return rig_answer_compare(it->file, it->other, &it->options, diags, document);
	const char *name = rig_question_at(it->question)->name;
	return rig_answer(it->file, name, &it->options, diags, document);
}

/* The answer's text, to be freed; NULL: it was refused, with a reason. */
static char *answer(const asked *it, bool every_form)
{
	rig_diags *diags = rig_diags_new();
	rig_document *document = NULL;
	char *text = NULL;
	MUST(diags != NULL);
	const rig_status status = ask(it, diags, &document);
	if (status == RIG_OK) {
		if (every_form)
			check_document(document);
		MUST(rig_document_text(document, false, &text) == RIG_OK);
	} else {
		MUST(status == RIG_BAD_INPUT || status == RIG_NOT_FOUND);
		MUST(rig_diags_faults(diags) > 0);
	}
	rig_document_free(document);
	rig_diags_free(diags);
	return text;
}

/* A text with the readings' figures in it, or one option's parts, is a valid file. */
static void check_written(const asked *it)
{
	rig_diags *diags = rig_diags_new();
	rig_accepted accepted = {0};
	char *sized = NULL;
	MUST(diags != NULL);
	const char *question = rig_question_at(it->question)->name;
	if (strcmp(question, "readings") == 0)
		(void)rig_answer_accept(it->file, &it->options, diags, &accepted);
	if (strcmp(question, "size") == 0)
		(void)rig_answer_option(it->file, &it->options, 0, diags, &sized);
	const char *text = accepted.text != NULL ? accepted.text : sized;
	rig_file *again = NULL;
	MUST(text == NULL || rig_file_parse(text, strlen(text), diags, &again) == RIG_OK);
	rig_file_free(again);
	free(accepted.text);
	free(sized);
	rig_diags_free(diags);
}

/* Claims alone are held against each of a thousand places, so a part of the inputs asks for the
 * whole sheet in their place, which has them, too. */
static size_t question_of(unsigned choice, variant v)
{
	const bool claims =
		choice < rig_n_questions() && strcmp(rig_question_at(choice)->name, "claims") == 0;
	return claims && v % 4 != 0 ? rig_n_questions() - 1 : choice;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	if (size == 0)
		return 0;
	const size_t n_asked = rig_n_questions() + 1;
	const variant v = bytes[0] / (unsigned)n_asked;
	random_tape(bytes + 1, size - 1);
	rig_file *file = random_coach(size);
	rig_file *other = random_coach(v % 2 == 0 ? size : size + 1);
	random_tape(NULL, 0);
	const asked it = {file, other, question_of(bytes[0] % (unsigned)n_asked, v), options_of(v)};
	char *first = answer(&it, true);
	char *second = v % 4 == 0 ? answer(&it, false) : NULL;
	if (v % 4 == 0) {
		MUST((first == NULL) == (second == NULL));
		MUST(first == NULL || strcmp(first, second) == 0);
	}
	if (it.question < rig_n_questions())
		check_written(&it);
	free(first);
	free(second);
	rig_file_free(file);
	rig_file_free(other);
	return 0;
}
