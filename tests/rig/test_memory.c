/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of reading and writing fails once, and again from there on: the answer is that
 * memory is out, nothing leaks (the sanitizer looks), nothing is half made. */
#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/coach.h"
#include "suites.h"

/* The linker gives these names:
 * NOLINTBEGIN(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */
void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t n, size_t size);
void *__wrap_realloc(void *old, size_t size);
/* NOLINTEND(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */

static long until_failure = -1; /* allocations that still succeed; -1: all */
static bool for_good;           /* all later ones fail too */
static bool has_failed;

static bool fails(void)
{
	if (until_failure < 0)
		return false;
	if (until_failure > 0) {
		until_failure--;
		return false;
	}
	has_failed = true;
	if (!for_good)
		until_failure = -1;
	return true;
}

void *__wrap_malloc(size_t size)
{
	return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t n, size_t size)
{
	return fails() ? NULL : __real_calloc(n, size);
}

void *__wrap_realloc(void *old, size_t size)
{
	return fails() ? NULL : __real_realloc(old, size);
}

static void fail_after(long n, bool lasting)
{
	until_failure = n;
	for_good = lasting;
	has_failed = false;
}

/* Whether the failure that was asked for has not happened. */
static bool unharmed(void)
{
	until_failure = -1;
	return !has_failed;
}

static void set_up(void)
{
	cJSON_InitHooks(&(cJSON_Hooks){__wrap_malloc, free});
}

static void tear_down(void)
{
	cJSON_InitHooks(NULL);
}

static const char TEXT[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 50},"
	"\"place\": {\"latitude_deg\": 27, \"longitude_deg\": -90},"
	"\"circuits\": [{\"id\": \"c\"}], \"banks\": [{\"id\": \"b\", \"chemistry\": \"agm\", "
	"\"reserve_minutes\": {\"likely\": 90, \"from\": \"nameplate\", \"note\": \"n\"}}],"
	"\"loads\": [{\"id\": \"l\", \"running_w\": 5, \"circuit\": \"c\"}], \"solar\": [{\"id\": "
	"\"p\", \"length_in\": 20, \"width_in\": 12}], \"inverter\": {\"watts_w\": 300},"
	"\"together\": [{\"name\": \"s\", \"loads\": [\"l\"]}],"
	"\"habits\": [{\"name\": \"h\", \"use\": [{\"load\": \"l\", \"daily_use_h\": 1}]}]}";

static const char FAULTY[] =
	"{\"format\": \"rigbudget/1\", \"nmae\": \"T\", \"shore\": {\"cord_a\": 40},"
	"\"loads\": [{\"id\": \"l\", \"profile\": \"cofee_maker\", \"circuit\": \"c\"}, {\"id\": "
	"\"l\", \"running_w\": \"5\"}, 7]}";

static rig_status parse(const char *text, long n, bool lasting)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	fail_after(n, lasting);
	const rig_status status = rig_file_parse(text, strlen(text), diags, &file);
	const bool whole = unharmed();
	ck_assert_int_eq(status == RIG_OK, file != NULL);
	rig_file_free(file);
	rig_diags_free(diags);
	return whole ? RIG_N_STATUS : status;
}

START_TEST(reading_without_memory_says_so)
{
	long n = 0;
	rig_status status = RIG_OK;
	for (; (status = parse(TEXT, n, _i == 1)) != RIG_N_STATUS; n++)
		ck_assert_msg(status == RIG_NO_MEMORY, "allocation %ld: status %d", n, (int)status);
	ck_assert_int_gt(n, 50);
}
END_TEST

START_TEST(reading_a_faulty_file_without_memory_never_makes_it_right)
{
	long n = 0;
	rig_status status = RIG_OK;
	for (; (status = parse(FAULTY, n, _i == 1)) != RIG_N_STATUS; n++)
		ck_assert_msg(status == RIG_NO_MEMORY || status == RIG_BAD_INPUT,
			"allocation %ld: status %d", n, (int)status);
	ck_assert_int_gt(n, 30);
}
END_TEST

START_TEST(writing_without_memory_gives_nothing)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_file_parse(TEXT, strlen(TEXT), diags, &file), RIG_OK);
	for (long n = 0;; n++) {
		fail_after(n, _i == 1);
		char *text = rig_file_text(file);
		const bool whole = unharmed();
		ck_assert_int_eq(text != NULL, whole);
		free(text);
		if (whole)
			break;
	}
	rig_file_free(file);
	rig_diags_free(diags);
}
END_TEST

/* Each hundredth allocation: there are thousands. */
START_TEST(a_schema_without_memory_is_none)
{
	for (long n = _i;; n += 97) {
		fail_after(n, false);
		char *text = rig_schema_text();
		const bool whole = unharmed();
		ck_assert_int_eq(text != NULL, whole);
		free(text);
		if (whole)
			break;
	}
}
END_TEST

Suite *memory_suite(void);
Suite *memory_suite(void)
{
	Suite *suite = suite_create("memory");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_checked_fixture(all, set_up, tear_down);
	tcase_add_loop_test(all, reading_without_memory_says_so, 0, 2);
	tcase_add_loop_test(all, reading_a_faulty_file_without_memory_never_makes_it_right, 0, 2);
	tcase_add_loop_test(all, writing_without_memory_gives_nothing, 0, 2);
	tcase_add_loop_test(all, a_schema_without_memory_is_none, 0, 2);
	suite_add_tcase(suite, all);
	return suite;
}
