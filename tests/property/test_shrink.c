/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shrink.h"

#include <stdlib.h>
#include <string.h>

#include "suites.h"

static bool has_all(const char *text, const void *context)
{
	for (const char *const *word = context; *word != NULL; word++)
		if (strstr(text, *word) == NULL)
			return false;
	return true;
}

/* What is left when only the words have to stay. */
static const struct {
	const char *words[3], *text, *left;
} CASES[] = {
	{{"\"b\""}, "{\"a\": 1, \"b\": {\"c\": [1, 2]}, \"d\": []}", "{\"b\":{}}"},
	{{"7", "9"}, "[1, {\"x\": 7, \"y\": 8}, [9, 10]]", "[{\"x\":7},[9]]"},
	{{"{"}, "{\"a\": [{}, {}]}", "{}"},
};

START_TEST(only_what_the_fault_needs_is_left)
{
	char *small = shrink(CASES[_i].text, has_all, CASES[_i].words);
	ck_assert_ptr_nonnull(small);
	char *to = small;
	for (const char *from = small; *from != '\0'; from++)
		if (strchr(" \t\n", *from) == NULL)
			*to++ = *from;
	*to = '\0';
	ck_assert_str_eq(small, CASES[_i].left);
	free(small);
}
END_TEST

START_TEST(what_does_not_fail_is_not_shrunk)
{
	const char *const words[] = {"z", NULL};
	ck_assert_ptr_null(shrink("{\"a\": 1}", has_all, words));
	ck_assert_ptr_null(shrink("z {", has_all, words));
}
END_TEST

Suite *shrink_suite(void);
Suite *shrink_suite(void)
{
	Suite *suite = suite_create("shrink");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, only_what_the_fault_needs_is_left, 0, COUNT(CASES));
	tcase_add_test(all, what_does_not_fail_is_not_shrunk);
	suite_add_tcase(suite, all);
	return suite;
}
