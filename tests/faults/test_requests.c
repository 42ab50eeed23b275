/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each allocation of each kind of the page's requests fails once, or with all that follow it: the
 * bridge gives nothing, or says that memory is out, or gives the same to the last byte; nothing
 * stays behind. */
#include <stdlib.h>
#include <string.h>

#include "failing.h"
#include "page/bridge.h"
#include "suites.h"

#define COACH                                                                                      \
	"\"file\": \"{\\\"format\\\": \\\"rigbudget/1\\\", \\\"name\\\": \\\"T\\\", "              \
	"\\\"shore\\\":"                                                                           \
	" {\\\"cord_a\\\": 30}, \\\"place\\\": {\\\"name\\\": \\\"Flagstaff\\\"}, \\\"banks\\\":"  \
	" [{\\\"id\\\": \\\"b\\\", \\\"role\\\": \\\"house\\\", \\\"capacity_ah\\\": 90}],"        \
	" \\\"circuits\\\": [{\\\"id\\\": \\\"c\\\", \\\"breaker_a\\\": 15}],"                     \
	" \\\"loads\\\": [{\\\"id\\\": \\\"k\\\", \\\"supply\\\": \\\"ac\\\","                     \
	" \\\"circuit\\\": \\\"c\\\", \\\"running_w\\\": 900}], \\\"habits\\\":"                   \
	" [{\\\"name\\\": \\\"alone\\\"}], \\\"readings\\\": [{\\\"on\\\": [\\\"k\\\"],"           \
	" \\\"leg1_a\\\": 7.6}, {\\\"on\\\": [], \\\"leg1_a\\\": 0}]}\""

/* n_steps: even steps through the allocations; a request with fewer fails in each. */
static const struct {
	const char *request;
	long n_steps;
} REQUESTS[] = {
	{"{\"do\": \"answer\", \"question\": \"shore\", \"as\": [\"html\", \"text\", "
	 "\"data\"], " COACH "}",
		60},
	{"{\"do\": \"answer\", \"question\": \"shore\", \"options\": {\"units\": \"si\"}, " COACH
	 "}",
		30},
	{"{\"do\": \"answer\", \"question\": \"shore\", \"options\": {\"unist\": \"si\"}, " COACH
	 "}",
		200},
	{"{\"do\": \"whole\", \"question\": \"shore\", \"format\": \"html\", " COACH "}", 30},
	{"{\"do\": \"whole\", \"question\": \"shore\", \"format\": \"json\", " COACH "}", 30},
	{"{\"do\": \"accept\", " COACH "}", 100},
	{"{\"do\": \"check\", " COACH "}", 300},
	{"{\"do\": \"write\", " COACH "}", 300},
	{"{\"do\": \"budget\", \"on\": [\"k\"], " COACH "}", 300},
	{"{\"do\": \"budget\", \"supply\": \"42\", " COACH "}", 300},
	{"{\"do\": \"new\", \"loads\": [{\"profile\": \"led_light\"}]}", 300},
	{"{\"do\": \"new\", \"loads\": [{\"profile\": \"no_such\"}]}", 300},
	{"{\"do\": \"demo\"}", 60},
	{"{\"do\": \"blank\"}", 300},
	{"{\"do\": \"questions\"}", 300},
	{"{\"do\": \"keys\"}", 60},
	{"{\"do\": \"list\", \"what\": \"supplies\"}", 200},
	{"{\"do\": \"list\", \"what\": \"places\", \"word\": \"AZ\", \"most\": 2}", 100},
	{"{\"do\": \"find_place\", \"name\": \"Flagstof\"}", 300},
	{"{\"do\": \"explain\", \"about\": \"size-options\"}", 300},
	{"{\"do\": \"explain\"}", 60},
	{"{\"do\": \"style\"}", 300},
	{"{\"do\": \"version\"}", 300},
	{"{\"do\": \"anser\"}", 300},
	{"{", 300},
};
enum { NEVER = 1000000000 };

static char *respond(int request)
{
	const char *text = REQUESTS[request].request;
	return page_respond(text, strlen(text), NULL);
}

/* One run with a failure; false when it came to its end before that. Nothing of the test library in
 * between, which takes pieces that are not counted. */
static bool survives(int request, const char *expected, long n)
{
	const long before = failing_n_live();
	failing_after(n, n % 2 == 1);
	char *got = respond(request);
	const bool whole = failing_never_did();
	const bool right =
		got == NULL || strcmp(got, expected) == 0 || strstr(got, "out of memory") != NULL;
	const bool told = !whole || got != NULL;
	free(got);
	const long n_left = failing_n_live() - before;
	ck_assert_msg(right && told, "%s: allocation %ld: a wrong response",
		REQUESTS[request].request, n);
	ck_assert_msg(n_left == 0, "%s: allocation %ld: %ld pieces stay", REQUESTS[request].request,
		n, n_left);
	return !whole;
}

START_TEST(a_request_without_memory_is_not_half_answered)
{
	failing_after(NEVER, false);
	char *expected = respond(_i);
	const long n_all = NEVER - failing_stop();
	ck_assert_ptr_nonnull(expected);
	ck_assert_int_gt(n_all, 1);
	long n = 0;
	while (survives(_i, expected, n))
		n += 1 + n_all / REQUESTS[_i].n_steps;
	ck_assert_int_ge(n, n_all);
	free(expected);
}
END_TEST

Suite *requests_suite(void);
Suite *requests_suite(void)
{
	Suite *suite = suite_create("requests");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_checked_fixture(all, failing_set_up, failing_tear_down);
	tcase_add_loop_test(all, a_request_without_memory_is_not_half_answered, 0, COUNT(REQUESTS));
	suite_add_tcase(suite, all);
	return suite;
}
