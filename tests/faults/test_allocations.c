/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each allocation of a question and of each form of its answer fails once, and again with all that
 * follow it: either memory is said to be out, or the answer is the same to the last byte; nothing
 * stays behind. GSL's vectors and matrices and cJSON's nodes fail, too. A question that takes many
 * allocations fails in the first of them and then at even steps; the sheets of the samples fail at
 * each place in the code that allocates, the first time that it does and the last. */
#include <stdlib.h>
#include <string.h>

#include "failing.h"
#include "report/golden.h"
#include "rigbudget/answer.h"
#include "rigbudget/folder.h"
#include "sites.h"
#include "suites.h"

/* A coach with one of each thing that a question looks at. */
static const char SMALL[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 30},"
	"\"place\": {\"name\": \"Flagstaff\"},"
	"\"circuits\": [{\"id\": \"ac\", \"breaker_a\": 20, \"awg\": \"12\"}, {\"id\": \"dc\", "
	"\"supply\": \"dc\", \"bank\": \"b\","
	"\"breaker_a\": 15}], \"banks\": [{\"id\": \"b\", \"role\": \"house\","
	"\"chemistry\": \"agm\", \"capacity_ah\": 90}], \"loads\": ["
	"{\"id\": \"kettle\", \"supply\": \"ac\", \"running_w\": 900, \"circuit\": \"ac\"},"
	"{\"id\": \"cool\", \"profile\": \"roof_ac_13k5\", \"circuit\": \"ac\"},"
	"{\"id\": \"fan\", \"supply\": \"dc\", \"running_w\": 20, \"circuit\": \"dc\","
	"\"daily_use_h\": 8}], \"solar\": [{\"id\": \"p\", \"watts_w\": 100, \"bank\": \"b\"}],"
	"\"inverter\": {\"watts_w\": 1000, \"bank\": \"b\"}, \"charger\": {\"amps_a\": 40},"
	"\"generator\": {\"watts_w\": 2800}, \"energy_management\": {\"order\": [\"cool\"]},"
	"\"together\": [{\"name\": \"s\", \"loads\": [\"kettle\", \"cool\"]}],"
	"\"wires\": [{\"id\": \"w\", \"bank\": \"b\", \"length_ft\": 6, \"amps_a\": 40}],"
	"\"readings\": [{\"on\": [\"kettle\"], \"leg1_a\": 8, \"volts_v\": 118},"
	"{\"on\": [\"kettle\", \"cool\"], \"leg1_a\": 20}, {\"on\": [], \"leg1_a\": 0.3}]}";

static const char SKETCH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30},"
	"\"loads\": [{\"id\": \"heater\", \"supply\": \"ac\", \"running_w\": 900}]}";

static rig_file *file_of(const char *text)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	rig_file_parse(text, strlen(text), diags, &file);
	ck_assert_msg(file != NULL, "%s: %s (%s)", rig_diags_at(diags, 0)->where.path,
		rig_diags_at(diags, 0)->what, rig_diags_at(diags, 0)->found);
	rig_diags_free(diags);
	return file;
}

static rig_file *file_named(const char *name)
{
	if (strncmp(name, "samples/", 8) != 0)
		return file_of(strcmp(name, "small") == 0 ? SMALL : SKETCH);
	char *text = file_of_tree(name);
	ck_assert_ptr_nonnull(text);
	rig_file *file = file_of(text);
	free(text);
	return file;
}

static rig_answer_options short_options(void)
{
	rig_answer_options options = rig_answer_defaults();
	options.n_days = 2;
	options.n_trips = 4;
	options.n_side_trips = 0;
	return options;
}

static rig_status ask(const rig_file *file, const char *question, rig_document **document)
{
	const rig_answer_options options = short_options();
	rig_diags *diags = rig_diags_new();
	*document = NULL;
	const rig_status status = diags == NULL
					  ? RIG_NO_MEMORY
					  : rig_answer(file, question, &options, diags, document);
	rig_diags_free(diags);
	return status;
}

/* ---- questions ---- */

static const struct {
	const char *name;
	long n_first; /* of the first, all */
	long n_steps; /* through the others */
} COACHES[] = {{"small", 300, 40}, {"sketch", 500, 500}};
enum { NEVER = 1000000000 };

/* The allocation to fail after the n-th. */
static long next_failure(long n, long n_all, int coach)
{
	return n + (n < COACHES[coach].n_first ? 1 : 1 + n_all / COACHES[coach].n_steps);
}

/* What an undisturbed run gives. */
typedef struct {
	const rig_file *file;
	const char *question;
	rig_status status;
	char *text;
} expected_answer;

/* Asks with a failure; whether the answer is right, or memory is said to be out. */
static bool answers(const expected_answer *expected)
{
	rig_document *document = NULL;
	char *text = NULL;
	const rig_status status = ask(expected->file, expected->question, &document);
	failing_stop();
	bool right = (status == RIG_OK) == (document != NULL) &&
		     (status == RIG_NO_MEMORY || status == expected->status);
	if (status == RIG_OK && rig_document_status(document) != RIG_NO_MEMORY)
		right = right && rig_document_json(document, &text) == RIG_OK &&
			strcmp(text, expected->text) == 0;
	free(text);
	rig_document_free(document);
	return right;
}

/* One run with a failure; false when it came to its end before that. Nothing of the test library,
 * which takes pieces that are not counted, in between. */
static bool survives(const expected_answer *expected, long n, bool lasting)
{
	const long before = failing_n_live();
	failing_after(n, lasting);
	const bool right = answers(expected);
	const bool whole = failing_never_did();
	const long n_left = failing_n_live() - before;
	ck_assert_msg(right, "%s: allocation %ld: a wrong answer", expected->question, n);
	ck_assert_msg(
		n_left == 0, "%s: allocation %ld: %ld pieces stay", expected->question, n, n_left);
	return !whole;
}

/* What it gives undisturbed, and the allocations that it takes. */
static long expect(expected_answer *expected)
{
	rig_document *document = NULL;
	failing_after(NEVER, false);
	expected->status = ask(expected->file, expected->question, &document);
	const long n = NEVER - failing_stop();
	if (expected->status == RIG_OK)
		ck_assert_int_eq(rig_document_json(document, &expected->text), RIG_OK);
	rig_document_free(document);
	return n;
}

START_TEST(a_question_without_memory_says_so)
{
	rig_file *file = file_named(COACHES[_i].name);
	for (size_t i = 0; i < rig_n_questions(); i++) {
		expected_answer expected = {.file = file, .question = rig_question_at(i)->name};
		const long n_all = expect(&expected);
		ck_assert_int_gt(n_all, 1);
		long n = 0;
		while (survives(&expected, n, n % 2 == 1))
			n = next_failure(n, n_all, _i);
		ck_assert_int_ge(n, n_all);
		free(expected.text);
	}
	rig_file_free(file);
}
END_TEST

/* ---- every place that allocates for a sheet ---- */

/* A process that is counted line by line writes its counts before it forks. */
#ifdef RIG_SLOW
enum { THINNED = 160 };
#else
enum { THINNED = 1 };
#endif

static const struct {
	const char *name;
	int every; /* so manieth place */
} SHEETS[] = {{"samples/week-trailer.rig.json", 8}, {"samples/upgrade-fifth-wheel.rig.json", 8},
	{"samples/diesel-coach.rig.json", 1}};

static bool answers_in(const void *expected)
{
	return answers(expected);
}

START_TEST(a_sheet_without_memory_at_any_place_says_so)
{
	rig_file *file = file_named(SHEETS[_i].name);
	expected_answer expected = {.file = file, .question = "report"};
	site_count count;
	(void)expect(&expected);
	const bool right = sites_fail(answers_in, &expected, SHEETS[_i].every * THINNED, &count);
	printf("%s: %ld allocations at %ld places, %ld failed\n", SHEETS[_i].name,
		count.n_allocations, count.n_sites, count.n_failed);
	ck_assert(right);
	ck_assert_int_gt(count.n_sites, 500);
	ck_assert_int_ge(count.n_failed, count.n_sites / SHEETS[_i].every / THINNED);
	ck_assert_msg(count.n_wrong == 0, "%s: %ld wrong ends, the first at allocation %ld",
		SHEETS[_i].name, count.n_wrong, count.first_wrong);
	free(expected.text);
	rig_file_free(file);
}
END_TEST

/* ---- forms ---- */

typedef struct {
	char *text;
	rig_folder *folder;
} rendered;

static rig_status as_text(const rig_document *document, rendered *into)
{
	return rig_document_text(document, false, &into->text);
}

static rig_status as_html(const rig_document *document, rendered *into)
{
	return rig_document_html(document, &into->text);
}

static rig_status as_json(const rig_document *document, rendered *into)
{
	return rig_document_json(document, &into->text);
}

static rig_status as_csv(const rig_document *document, rendered *into)
{
	return rig_document_csv(document, &into->folder);
}

static rig_status as_svg(const rig_document *document, rendered *into)
{
	return rig_document_svg(document, &into->folder);
}

static const struct {
	const char *name;
	rig_status (*render)(const rig_document *, rendered *);
} FORMS[] = {
	{"text", as_text}, {"HTML", as_html}, {"JSON", as_json}, {"CSV", as_csv}, {"SVG", as_svg}};

static bool is_same(const rendered *a, const rendered *b)
{
	if (a->text != NULL)
		return strcmp(a->text, b->text) == 0;
	const size_t n = rig_folder_n_files(a->folder);
	bool same = n == rig_folder_n_files(b->folder);
	for (size_t i = 0; same && i < n; i++)
		same = strcmp(rig_folder_file_at(a->folder, i)->text,
			       rig_folder_file_at(b->folder, i)->text) == 0;
	return same;
}

static void drop(rendered *it)
{
	free(it->text);
	rig_folder_free(it->folder);
}

/* One form with a failure; false when it came to its end before that. */
static bool renders(const rig_document *document, const rendered *expected, int form, long n)
{
	rendered made = {0};
	const long before = failing_n_live();
	failing_after(n, n % 2 == 1);
	const rig_status status = FORMS[form].render(document, &made);
	const bool whole = failing_never_did();
	const bool right = status == RIG_OK ? is_same(&made, expected)
					    : status == RIG_NO_MEMORY && made.text == NULL &&
						      made.folder == NULL;
	drop(&made);
	const long n_left = failing_n_live() - before;
	ck_assert_msg(right, "%s: allocation %ld: status %d", FORMS[form].name, n, (int)status);
	ck_assert_msg(
		n_left == 0, "%s: allocation %ld: %ld pieces stay", FORMS[form].name, n, n_left);
	return !whole;
}

START_TEST(a_form_without_memory_is_none)
{
	rig_file *file = file_named("small");
	rig_document *document = NULL;
	rendered expected = {0};
	ck_assert_int_eq(ask(file, "report", &document), RIG_OK);
	ck_assert_int_eq(FORMS[_i].render(document, &expected), RIG_OK);
	long n = 0;
	while (renders(document, &expected, _i, n))
		n++;
	ck_assert_int_gt(n, 5);
	drop(&expected);
	rig_document_free(document);
	rig_file_free(file);
}
END_TEST

Suite *allocations_suite(void);
Suite *allocations_suite(void)
{
	Suite *suite = suite_create("allocations");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_checked_fixture(all, failing_set_up, failing_tear_down);
	tcase_add_loop_test(all, a_question_without_memory_says_so, 0, COUNT(COACHES));
	tcase_add_loop_test(all, a_sheet_without_memory_at_any_place_says_so, 0, COUNT(SHEETS));
	tcase_add_loop_test(all, a_form_without_memory_is_none, 0, COUNT(FORMS));
	suite_add_tcase(suite, all);
	return suite;
}
